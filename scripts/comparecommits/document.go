package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
)

// leaf is one value of a document. An element of a list belongs to the list's key; object is the
// path of the object that holds that key, in which the value's u may stand beside it.
type leaf struct{ path, object, key, text string }

// document is the values of a JSON text or a CSV table in their order.
type document struct {
	leaves  []leaf
	at      map[string]int // by path
	leftOut int
}

type (
	field  struct{ key, value any }
	object []field
	list   []any
)

func (d *document) add(l leaf) {
	if _, taken := d.at[l.path]; taken { // a key that stands twice: the second must not hide the first
		l.path += fmt.Sprintf("(%d)", len(d.leaves))
	}
	d.at[l.path] = len(d.leaves)
	d.leaves = append(d.leaves, l)
}

func (d *document) text(path string) (string, bool) {
	i, ok := d.at[path]
	if !ok {
		return "", false
	}
	return d.leaves[i].text, true
}

// readJSON reads one JSON text, or several as JSON lines are. Numbers stay as they were written.
func readJSON(data []byte, leaveOut []string) (document, error) {
	d := document{at: map[string]int{}}
	in := json.NewDecoder(bytes.NewReader(data))
	in.UseNumber()
	var texts list
	for {
		v, err := readValue(in)
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return d, err
		}
		texts = append(texts, v)
	}
	if len(texts) == 1 {
		d.flatten("", "", "", texts[0], leaveOut)
	} else {
		d.flatten("", "", "", texts, leaveOut)
	}
	return d, nil
}

func readValue(in *json.Decoder) (any, error) {
	token, err := in.Token()
	if err != nil {
		return nil, err
	}
	switch token {
	case json.Delim('{'):
		var o object
		for in.More() {
			key, err := in.Token()
			if err != nil {
				return nil, err
			}
			value, err := readValue(in)
			if err != nil {
				return nil, err
			}
			o = append(o, field{key, value})
		}
		_, err = in.Token()
		return o, err
	case json.Delim('['):
		var l list
		for in.More() {
			value, err := readValue(in)
			if err != nil {
				return nil, err
			}
			l = append(l, value)
		}
		_, err = in.Token()
		return l, err
	}
	if text, ok := token.(string); ok {
		return strconv.Quote(text), nil
	}
	return fmt.Sprint(token), nil
}

func (d *document) flatten(path, in, key string, value any, leaveOut []string) {
	switch v := value.(type) {
	case object:
		if len(v) == 0 {
			d.add(leaf{path, in, key, "{}"})
		}
		for _, f := range v {
			name := fmt.Sprint(f.key)
			if slices.Contains(leaveOut, name) {
				d.leftOut++
				continue
			}
			d.flatten(join(path, name), path, name, f.value, leaveOut)
		}
	case list:
		if len(v) == 0 {
			d.add(leaf{path, in, key, "[]"})
		}
		for i, name := range names(v) {
			d.flatten(path+"["+name+"]", in, key, v[i], leaveOut)
		}
	default:
		d.add(leaf{path, in, key, fmt.Sprint(v)})
	}
}

func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

// names are what the elements of a list go by: the frame's file, the warning's code or the name
// where all have one of their own, so that one element more does not shift all others; else
// numbers.
func names(l list) []string {
	for _, by := range []string{"file", "code", "name"} {
		var out []string
		for _, v := range l {
			o, _ := v.(object)
			i := slices.IndexFunc(o, func(f field) bool { return f.key == by })
			if i < 0 {
				break
			}
			out = append(out, strings.Trim(fmt.Sprint(o[i].value), `"`))
		}
		if len(out) == len(l) && len(slices.Compact(slices.Sorted(slices.Values(out)))) == len(l) {
			return out
		}
	}
	out := make([]string, len(l))
	for i := range l {
		out[i] = strconv.Itoa(i)
	}
	return out
}

// readCSV reads a table with a header line; a row goes by its frame where that is the first column.
func readCSV(data []byte, leaveOut []string) (document, error) {
	d := document{at: map[string]int{}}
	in := csv.NewReader(bytes.NewReader(data))
	in.Comment, in.FieldsPerRecord = '#', -1
	rows, err := in.ReadAll()
	if err != nil || len(rows) == 0 {
		return d, errors.Join(err, errors.New("no table"))
	}
	var table list
	for _, row := range rows[1:] {
		var o object
		for i, cell := range row {
			o = append(o, field{column(rows[0], i), cell})
		}
		table = append(table, o)
	}
	d.flatten("", "", "", table, leaveOut)
	return d, nil
}

func column(header []string, i int) string {
	switch {
	case i >= len(header):
		return fmt.Sprintf("column %d", i+1)
	case i == 0 && header[0] == "frame":
		return "file"
	}
	return header[i]
}
