package manual

import "strings"

// width of the lines in the source of a man page.
const width = 76

// paragraphs sets text in which empty lines divide paragraphs.
func paragraphs(text string) string {
	var list []string
	for p := range strings.SplitSeq(text, "\n\n") {
		list = append(list, filled(p))
	}
	return strings.Join(list, ".Pp\n")
}

// filled sets running text: short lines, each sentence on a line of its own, nothing that mdoc
// would take for a command.
func filled(text string) string {
	var b strings.Builder
	length := 0
	for _, word := range strings.Fields(text) {
		if length > 0 && length+1+len(word) > width {
			b.WriteString("\n")
			length = 0
		}
		if length > 0 {
			b.WriteString(" ")
			length++
		}
		b.WriteString(safe(word, length == 0))
		length += len(word)
		if strings.HasSuffix(strings.TrimRight(word, `)"'`), ".") && !strings.HasSuffix(word, "...") {
			b.WriteString("\n")
			length = 0
		}
	}
	return strings.TrimRight(b.String(), "\n") + "\n"
}

// literal sets lines as they are.
func literal(text string) string {
	var b strings.Builder
	for line := range strings.SplitSeq(text, "\n") {
		b.WriteString(safe(strings.TrimPrefix(line, "  "), true) + "\n")
	}
	return b.String()
}

// safe keeps what mdoc gives a meaning: the backslash, the hyphen of an option, and a dot or quote
// that begins a line.
func safe(text string, first bool) string {
	text = strings.ReplaceAll(text, `\`, `\e`)
	text = strings.ReplaceAll(text, "--", `\-\-`)
	if first && (strings.HasPrefix(text, ".") || strings.HasPrefix(text, "'")) {
		text = `\&` + text
	}
	return text
}
