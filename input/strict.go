package input

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"reflect"
	"strings"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"
)

// TOMLFile knows where the keys of a decoded TOML file stand, for errors about their values.
type TOMLFile struct {
	Name  string         // as errors call the file
	lines map[string]int // dotted key to line
}

// Has reports whether the file states the dotted key.
func (f TOMLFile) Has(key string) bool { return f.lines[key] > 0 }

// Fault is an error about the value of a dotted key such as "conditions.drop_mm"; keys inside
// the k-th table of an array, counted from 0, are written "flash[k].power".
func (f TOMLFile) Fault(key, what, hint string) *Error {
	return &Error{File: f.Name, Line: f.lines[key], What: LastPart(key) + " " + what, Hint: hint}
}

// DecodeStrict decodes TOML text into the struct that v points to, whose fields carry toml tags
// and may carry a help tag. A key without a field, a value of the wrong type and bad syntax are
// *Error naming file, line, key and the nearest key there is. A byte order mark is allowed.
func DecodeStrict(name string, text []byte, v any) (TOMLFile, error) {
	f := TOMLFile{Name: name}
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
	d := toml.NewDecoder(bytes.NewReader(text)).DisallowUnknownFields()
	err := d.Decode(v)
	f.lines = keyLines(text)
	var missing *toml.StrictMissingError
	var wrong *toml.DecodeError
	switch {
	case err == nil:
		return f, nil
	case errors.As(err, &missing):
		return f, f.unknownKeys(missing, reflect.TypeOf(v).Elem())
	case errors.As(err, &wrong):
		return f, f.wrongValue(wrong, text, reflect.TypeOf(v).Elem())
	}
	return f, &Error{File: name, What: strings.TrimPrefix(err.Error(), "toml: ")}
}

func (f TOMLFile) unknownKeys(m *toml.StrictMissingError, t reflect.Type) error {
	var all List
	for i := range m.Errors {
		key := m.Errors[i].Key()
		line, _ := m.Errors[i].Position()
		e := &Error{File: f.Name, Line: line}
		e.What, e.Hint = unknownKey(key, t)
		all.Add(e)
	}
	return all.Err(f.Name)
}

func (f TOMLFile) wrongValue(d *toml.DecodeError, text []byte, t reflect.Type) error {
	line, _ := d.Position()
	e := &Error{File: f.Name, Line: line}
	what := strings.TrimPrefix(d.Error(), "toml: ")
	switch key := d.Key(); {
	case len(key) > 0 && strings.HasPrefix(what, "cannot decode"):
		e.What = fmt.Sprintf("%s wants %s", strings.Join(key, "."), kindName(TypeAt(t, key)))
		e.Hint = "the line reads: " + lineOf(text, line)
	default:
		e.What = what
		e.Hint = "the line reads: " + lineOf(text, line) + "\n(text stands in double quotes; numbers use a point and carry no unit)"
	}
	return e
}

func lineOf(text []byte, line int) string {
	lines := bytes.Split(text, []byte("\n"))
	if line < 1 || line > len(lines) {
		return ""
	}
	s := strings.ToValidUTF8(strings.TrimSpace(string(lines[line-1])), "?")
	if r := []rune(s); len(r) > 80 {
		s = string(r[:80]) + "..."
	}
	return s
}

// keyLines walks TOML text that may be broken further on and notes each key's line.
func keyLines(text []byte) map[string]int {
	lines := map[string]int{}
	count := map[string]int{}
	var p unstable.Parser
	p.Reset(text)
	prefix := ""
	for p.NextExpression() {
		e := p.Expression()
		path, raw := keyPath(e)
		line := p.Shape(raw).Start.Line
		switch e.Kind {
		case unstable.Table:
			prefix = path + "."
		case unstable.ArrayTable:
			prefix = fmt.Sprintf("%s[%d].", path, count[path])
			count[path]++
			path = strings.TrimSuffix(prefix, ".")
		case unstable.KeyValue:
			path = prefix + path
		default:
			continue
		}
		if lines[path] == 0 {
			lines[path] = line
		}
	}
	return lines
}

func keyPath(e *unstable.Node) (string, unstable.Range) {
	var parts []string
	var raw unstable.Range
	for it := e.Key(); it.Next(); {
		if len(parts) == 0 {
			raw = it.Node().Raw
		}
		parts = append(parts, string(it.Node().Data))
	}
	return strings.Join(parts, "."), raw
}

// SchemaOf is what a TOML file states as its schema; "" where it states none or is no TOML.
func SchemaOf(text []byte) string {
	var stated struct {
		Schema string `toml:"schema"`
	}
	_ = toml.Unmarshal(text, &stated)
	return stated.Schema
}

// LastPart is the key itself of a dotted key.
func LastPart(key string) string { return key[strings.LastIndex(key, ".")+1:] }

// ReadBounded reads a file of at most limit bytes. A missing file is an error that wraps
// fs.ErrNotExist; a folder, a special file or a larger one is an *Error.
func ReadBounded(path string, limit int64) ([]byte, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, &Error{File: path, What: "is not a file"}
	}
	file, err := os.Open(path)
	if err != nil {
		return nil, &Error{File: path, What: "cannot be opened", Err: errors.Unwrap(err)}
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, limit+1))
	if err != nil {
		return nil, &Error{File: path, What: "cannot be read", Err: err}
	}
	if int64(len(data)) > limit {
		return nil, &Error{File: path, What: fmt.Sprintf("is larger than %d kB", limit/1024), Hint: "is this the right file?"}
	}
	return data, nil
}
