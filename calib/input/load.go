package input

import (
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// mostLooked bounds the load: some half a second. A table of 9,000 keys of a person's own stays
// below it.
const mostLooked = 50e6

// load is what the TOML decoder has to look through. It keeps all keys, lists of lists and tables
// seen so far in one list and goes through that for each further key, from the table that the key
// is in; a new table of an array clears the one before.
type load struct {
	seen    int
	looked  int
	array   string         // that the current table belongs to; "" for none
	element map[string]int // of seen, what the last table of an array holds
}

func (l *load) tooMuch() bool { return l.looked > mostLooked }

// header is a [table] or [[table]] of so many parts.
func (l *load) header(path string, parts int, array bool) {
	l.looked += l.seen * parts
	l.array, _, _ = strings.Cut(path, "[")
	if l.array == path {
		l.array = ""
	}
	if !array {
		l.add(parts)
		return
	}
	l.looked += l.seen
	l.seen -= l.element[l.array]
	delete(l.element, l.array)
	if strings.HasSuffix(path, "[0]") {
		l.seen += parts
	}
}

// keyValue is a line key = value.
func (l *load) keyValue(e *unstable.Node) {
	parts := keyParts(e)
	l.looked += l.seen * parts
	l.add(parts + l.inside(e.Value()))
}

func (l *load) add(n int) {
	l.seen += n
	if l.array == "" {
		return
	}
	if l.element == nil {
		l.element = map[string]int{}
	}
	l.element[l.array] += n
}

// inside counts what a value adds.
func (l *load) inside(v *unstable.Node) int {
	n := 0
	switch v.Kind {
	case unstable.InlineTable:
		for it := v.Children(); it.Next(); {
			parts := keyParts(it.Node())
			l.looked += n * parts
			n += parts + l.inside(it.Node().Value())
		}
	case unstable.Array:
		for it := v.Children(); it.Next(); {
			if k := it.Node().Kind; k == unstable.Array || k == unstable.InlineTable {
				n += 1 + l.inside(it.Node())
			}
		}
	}
	return n
}

func keyParts(e *unstable.Node) int {
	n := 0
	for it := e.Key(); it.Next(); {
		n++
	}
	return n
}
