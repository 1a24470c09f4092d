package main

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// place is a figure and where it was found.
type place struct {
	n     int
	where string
}

func (p *place) raise(n int, where string) {
	if n > p.n {
		*p = place{n, where}
	}
}

// tab is how many columns a tab takes.
const tab = 4

// columns is how wide a line is on the screen.
func columns(line string) int {
	return utf8.RuneCountInString(line) + (tab-1)*strings.Count(line, "\t")
}

// at is a place in a file.
func at(name string, line int) string { return fmt.Sprintf("%s:%d", name, line) }
