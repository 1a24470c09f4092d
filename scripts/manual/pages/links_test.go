package pages

import (
	"regexp"
	"strings"
)

// link is a link or picture of a page.
type link struct {
	line         int
	path, anchor string // the path is relative to the page; empty for the page itself
}

// links lists the links of a page to other files of the project, code left out.
func (p Page) links() []link {
	var list []link
	target := regexp.MustCompile(`\]\(([^)\s]+)\)`)
	code := regexp.MustCompile("`[^`]*`")
	p.prose(func(i int, line string) {
		for _, m := range target.FindAllStringSubmatch(code.ReplaceAllString(line, ""), -1) {
			if strings.Contains(m[1], "://") || strings.HasPrefix(m[1], "mailto:") {
				continue
			}
			path, anchor, _ := strings.Cut(m[1], "#")
			list = append(list, link{i + 1, path, anchor})
		}
	})
	return list
}

// anchors lists what the headings of a page can be reached by, as the common renderers of Markdown
// make it: small letters, blanks to hyphens, other signs left out.
func (p Page) anchors() []string {
	var list []string
	other := regexp.MustCompile(`[^\p{L}\p{N} _-]`)
	p.prose(func(_ int, line string) {
		if title, ok := strings.CutPrefix(strings.TrimLeft(line, "#"), " "); ok && strings.HasPrefix(line, "#") {
			list = append(list, strings.ReplaceAll(other.ReplaceAllString(strings.ToLower(title), ""), " ", "-"))
		}
	})
	return list
}

// prose calls do for each line that is not in a fenced block.
func (p Page) prose(do func(i int, line string)) {
	fenced := false
	for i, line := range p.Lines {
		if strings.HasPrefix(line, "```") {
			fenced = !fenced
		} else if !fenced {
			do(i, line)
		}
	}
}
