package main

import (
	"fmt"
	"regexp"
	"strings"
)

// figures is the figures of one paragraph and the command that makes them, which stands in a comment
// right below it:
//
//	<!-- figures: COMMAND; prints: TEXT; TEXT -->   run here; each text must stand in the paragraph and be printed
//	<!-- figures (20 min): COMMAND -->              takes longer, or needs more than is here
type figures struct {
	file    string
	line    int
	long    string // how long it takes; "" for under a minute
	command string
	prints  []string
	above   string // the paragraph
}

var comment = regexp.MustCompile(`^<!-- figures(?: \(([^)]+)\))?: (.+) -->$`)

// parse finds the comments of a page.
func parse(file, text string) ([]figures, error) {
	var all []figures
	var above []string
	fenced := false
	for i, line := range strings.Split(text, "\n") {
		fenced = fenced != strings.HasPrefix(line, "```")
		if fenced {
			continue
		}
		m := comment.FindStringSubmatch(strings.TrimSpace(line))
		switch {
		case m != nil:
			f := figures{file: file, line: i + 1, long: m[1], above: strings.Join(above, "\n")}
			command, prints, _ := strings.Cut(m[2], "; prints: ")
			f.command = command
			for one := range strings.SplitSeq(prints, "; ") {
				if one != "" {
					f.prints = append(f.prints, one)
				}
			}
			if err := f.check(); err != nil {
				return nil, err
			}
			all, above = append(all, f), nil
		case strings.Contains(line, "<!-- figures"):
			return nil, fmt.Errorf("%s:%d: a comment on figures that cannot be read", file, i+1)
		case strings.TrimSpace(line) == "":
			if i > 0 && len(above) > 0 {
				above = append(above, "") // the comment may stand after an empty line
			}
		default:
			if len(above) > 0 && above[len(above)-1] == "" {
				above = nil
			}
			above = append(above, line)
		}
	}
	return all, nil
}

// check says what is wrong with a comment before anything is run.
func (f figures) check() error {
	if f.long == "" && len(f.prints) == 0 {
		return fmt.Errorf("%s:%d: what %q prints is not said", f.file, f.line, f.command)
	}
	for _, p := range f.prints {
		if !strings.Contains(f.above, p) {
			return fmt.Errorf("%s:%d: %q does not stand above", f.file, f.line, p)
		}
	}
	if f.above == "" {
		return fmt.Errorf("%s:%d: nothing stands above", f.file, f.line)
	}
	return nil
}
