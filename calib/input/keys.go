package input

import (
	"bytes"
	"fmt"
	"reflect"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// keyWalk goes through the keys of a TOML text once, beside the struct type that is to take it. It
// notes where each key stands, and the keys that the type does not have. The text may be broken
// further on.
type keyWalk struct {
	text []byte
	root reflect.Type

	lines   map[string]int // dotted key to line
	unknown []unknownAt    // the first few, and
	more    int            // how many there are beyond
	blank   []span         // what holds an unknown key
	load    load           // of the decoder, by what is left

	table  place          // that of the header last seen
	skip   bool           // its keys are not told about: the header is unknown
	count  map[string]int // tables seen of each array
	offset int            // up to which lines were counted
	line   int            // there

	visited, scanned int // keys and bytes, for the tests: both grow with the text's length
}

// place is where a key leads.
type place struct {
	path string       // the dotted key as [TOMLFile.Fault] takes it
	key  []string     // the same, for the messages about unknown keys
	t    reflect.Type // of what stands there; nil where that takes no keys
}

type unknownAt struct {
	key  []string
	line int
}

type span struct{ from, to int }

// walkKeys stops early where the decoder would have too much to look through.
func walkKeys(text []byte, root reflect.Type) *keyWalk {
	w := &keyWalk{text: text, root: root, lines: map[string]int{}, count: map[string]int{}, table: place{t: root},
		line: 1}
	var p unstable.Parser
	p.Reset(text)
	for !w.load.tooMuch() && p.NextExpression() {
		switch e := p.Expression(); e.Kind {
		case unstable.Table, unstable.ArrayTable:
			w.header(e)
		case unstable.KeyValue:
			w.keyValue(e)
		}
	}
	return w
}

// header goes to a table.
func (w *keyWalk) header(e *unstable.Node) {
	w.table, w.skip = place{t: w.root}, false
	brackets := headerSpan(w.text, e)
	line, parts := 0, 0
	for it := e.Key(); it.Next(); parts++ {
		n := it.Node()
		if line == 0 {
			line = w.lineAt(n)
		}
		next, known := w.enter(w.table, n, e.Kind == unstable.ArrayTable && it.IsLast())
		if !known {
			w.skip = true
			w.blank = append(w.blank, brackets)
			return
		}
		w.table = next
	}
	w.note(w.table, line)
	w.load.header(w.table.path, parts, e.Kind == unstable.ArrayTable)
}

// headerSpan is a header from its first bracket to its last.
func headerSpan(text []byte, e *unstable.Node) span {
	var s span
	for it := e.Key(); it.Next(); {
		n := it.Node()
		if s.to == 0 {
			s.from = int(n.Raw.Offset)
		}
		s.to = int(n.Raw.Offset + n.Raw.Length)
	}
	brackets := 1
	if e.Kind == unstable.ArrayTable {
		brackets = 2
	}
	s.from = bytes.LastIndexByte(text[:s.from], '[') + 1 - brackets
	s.to += bytes.IndexByte(text[s.to:], ']') + brackets
	return s
}

// keyValue looks at a line key = value.
func (w *keyWalk) keyValue(e *unstable.Node) {
	if w.skip || !w.value(e, w.table) {
		w.visited++
		w.blank = append(w.blank, span{int(e.Raw.Offset), int(e.Raw.Offset + e.Raw.Length)})
		return
	}
	w.load.keyValue(e)
}

// value looks at a key with its value in a table, be it written in one line, and reports whether
// all keys are known.
func (w *keyWalk) value(e *unstable.Node, table place) bool {
	at, line := table, 0
	for it := e.Key(); it.Next(); {
		n := it.Node()
		if line == 0 {
			line = w.lineAt(n)
		}
		next, known := w.enter(at, n, false)
		if !known {
			return false
		}
		at = next
	}
	w.note(at, line)
	return w.inside(e.Value(), at)
}

// inside looks at the keys of tables that are written as values.
func (w *keyWalk) inside(v *unstable.Node, at place) bool {
	all := true
	switch {
	case v.Kind == unstable.InlineTable && at.t != nil:
		for it := v.Children(); it.Next(); {
			all = w.value(it.Node(), at) && all
		}
	case v.Kind == unstable.Array && isTables(at.t):
		for it := v.Children(); it.Next(); {
			element := at
			element.path, element.t = w.next(at.path), at.t.Elem()
			all = w.inside(it.Node(), element) && all
		}
	}
	return all
}

// enter follows one part of a key. A key that the table's type does not have is noted as unknown.
func (w *keyWalk) enter(p place, n *unstable.Node, newElement bool) (place, bool) {
	w.visited++
	t := p.t
	for t != nil && (t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice) {
		t = t.Elem()
	}
	if t == nil || t.Kind() != reflect.Struct && t.Kind() != reflect.Map {
		return place{}, true // what is wrong there is the decoder's to tell
	}
	name, inner := string(n.Data), reflect.Type(nil)
	if t.Kind() == reflect.Map {
		inner = t.Elem()
	} else {
		f, ok := fieldFolded(t, name)
		if !ok {
			w.addUnknown(append(p.key[:len(p.key):len(p.key)], name), n)
			return place{}, false
		}
		name, inner = tomlName(f), f.Type
	}
	to := place{path: name, key: append(p.key[:len(p.key):len(p.key)], name), t: inner}
	if p.path != "" {
		to.path = p.path + "." + name
	}
	switch {
	case isTables(inner) && newElement:
		to.path = w.next(to.path)
	case isTables(inner) && w.count[to.path] > 0:
		to.path = fmt.Sprintf("%s[%d]", to.path, w.count[to.path]-1)
	}
	return to, true
}

// next is the path of one more table of an array.
func (w *keyWalk) next(array string) string {
	w.count[array]++
	return fmt.Sprintf("%s[%d]", array, w.count[array]-1)
}

// isTables reports whether a type is a list of tables.
func isTables(t reflect.Type) bool {
	return t != nil && t.Kind() == reflect.Slice && structOf(t).Kind() == reflect.Struct
}

// fieldFolded finds a field as the decoder does, which lets capitals pass.
func fieldFolded(t reflect.Type, key string) (reflect.StructField, bool) {
	if f, ok := fieldNamed(t, key); ok {
		return f, true
	}
	return fieldNamed(t, strings.ToLower(key))
}

func (w *keyWalk) addUnknown(key []string, n *unstable.Node) {
	if len(w.unknown) == maxFaults {
		w.more++
		return
	}
	w.unknown = append(w.unknown, unknownAt{key, w.lineAt(n)})
}

// note keeps where a key stands first.
func (w *keyWalk) note(at place, line int) {
	if at.path != "" && w.lines[at.path] == 0 {
		w.lines[at.path] = line
	}
}

// lineAt is the line of a part of a key. Keys come in the order of the text, so that each byte is
// looked at once.
func (w *keyWalk) lineAt(n *unstable.Node) int {
	to := int(n.Raw.Offset)
	w.line += bytes.Count(w.text[w.offset:to], []byte("\n"))
	w.scanned += to - w.offset
	w.offset = to
	return w.line
}

// known is the text with blanks in the place of what holds an unknown key: the decoder would look
// through the whole text for each.
func (w *keyWalk) known() []byte {
	if len(w.blank) == 0 {
		return w.text
	}
	text := bytes.Clone(w.text)
	for _, s := range w.blank {
		for i := s.from; i < s.to; i++ {
			if text[i] != '\n' && text[i] != '\r' {
				text[i] = ' '
			}
		}
	}
	return text
}

// faults tells of the unknown keys.
func (w *keyWalk) faults(name string) error {
	var all List
	for _, u := range w.unknown {
		e := &Error{File: name, Line: u.line}
		e.What, e.Hint = unknownKey(u.key, w.root)
		all.Add(e)
	}
	all.more += w.more
	return all.Err(name)
}
