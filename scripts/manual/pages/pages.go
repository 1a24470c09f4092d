// Package pages reads the manual: the commands that a page tells people to type, the files it tells
// them to write, the output it shows, its links, headings and pictures.
//
// A block fenced as sh holds commands, one a line. A text block right behind it, with nothing
// between, shows what the last of them prints. A block fenced as "toml NAME" or "csv NAME" is a
// file that is to be written under that name.
package pages

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// Page is one page of the manual.
type Page struct {
	Path  string
	Lines []string
	Steps []Step
}

// Step is one thing that a page tells people to do.
type Step struct {
	Line     int      // of the page, from 1: where the block begins
	Commands []string // of a block of commands
	File     string   // of a block that is a file: its name,
	Text     string   // and what is in it
	// lines of the page, from 0, [first, past the last), that show what the last command prints;
	// equal where there are none
	Shown [2]int
}

// Read reads one page.
func Read(path string) (Page, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return Page{}, err
	}
	p := Page{Path: path, Lines: strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")}
	for at := 0; at < len(p.Lines); at++ {
		info, fenced := strings.CutPrefix(p.Lines[at], "```")
		if !fenced {
			continue
		}
		end := at + 1 + slices.Index(p.Lines[at+1:], "```")
		if end == at {
			return p, fmt.Errorf("%s:%d: the block has no end", path, at+1)
		}
		p.add(at, end, strings.Fields(info))
		at = end
	}
	return p, nil
}

// add takes in the block whose fences are lines at and end.
func (p *Page) add(at, end int, info []string) {
	body := p.Lines[at+1 : end]
	last := len(p.Steps) - 1
	switch {
	case len(info) == 1 && info[0] == "sh":
		s := Step{Line: at + 1}
		for _, line := range body {
			if line = strings.TrimSpace(line); line != "" && !strings.HasPrefix(line, "#") {
				s.Commands = append(s.Commands, line)
			}
		}
		p.Steps = append(p.Steps, s)
	case len(info) == 2:
		p.Steps = append(p.Steps, Step{Line: at + 1, File: info[1], Text: strings.Join(body, "\n") + "\n"})
	case len(info) == 1 && info[0] == "text" && last >= 0 && p.behind(p.Steps[last], at):
		p.Steps[last].Shown = [2]int{at + 1, end}
	}
}

// behind says whether nothing but empty lines lies between a block of commands and line at.
func (p *Page) behind(s Step, at int) bool {
	if len(s.Commands) == 0 {
		return false
	}
	end := s.Line + slices.Index(p.Lines[s.Line:], "```")
	return strings.TrimSpace(strings.Join(p.Lines[end+1:at], "")) == ""
}

// Place is where a page's file of that name is to be written: "~" is the home folder.
func Place(name, dir, home string) string {
	if rest, ok := strings.CutPrefix(name, "~/"); ok {
		return filepath.Join(home, rest)
	}
	return filepath.Join(dir, name)
}

// Elsewhere tells of a command that is not leadmark's which script of the project runs it; "" where
// none does.
func Elsewhere(command string) string {
	for _, known := range []struct{ begins, script string }{
		{"sudo apt-get install ./leadmark_", "scripts/package-check"},
		{"man leadmark", "scripts/package-check"},
		{"scripts/package-check", "scripts/package-check"},
		{"scripts/package", "scripts/package"},
		{"scripts/run", "scripts/run"},
		{"scripts/test", "scripts/test"},
		{"scripts/generate", "scripts/generate"},
		{"scripts/compare", "scripts/compare"},
	} {
		if strings.HasPrefix(command, known.begins) {
			return known.script
		}
	}
	return ""
}
