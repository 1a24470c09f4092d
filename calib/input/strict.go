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

// Fault is an error about the value of a dotted key such as "conditions.drop_mm"; keys inside
// the k-th table of an array, counted from 0, are written "flash[k].power".
func (f TOMLFile) Fault(key, what, hint string) *Error {
	return &Error{File: f.Name, Line: f.lines[key], What: LastPart(key) + " " + what, Hint: hint}
}

// DecodeStrict decodes TOML text into the struct that v points to, whose fields carry toml tags
// and may carry a help tag. A key without a field, a value of the wrong type and bad syntax are
// *Error naming file, line, key and the nearest key there is. A byte order mark is allowed.
func DecodeStrict(name string, text []byte, v any) (TOMLFile, error) {
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
	t := reflect.TypeOf(v).Elem()
	w := walkKeys(text, t)
	f := TOMLFile{Name: name, lines: w.lines}
	if w.load.tooMuch() {
		return f, &Error{File: name, Line: w.line,
			What: "holds more keys, tables and lists up to here than can be looked through",
			Hint: "is this the right file? if it is, take out what nobody needs"}
	}
	err := toml.NewDecoder(bytes.NewReader(w.known())).DisallowUnknownFields().Decode(v)
	var wrong *toml.DecodeError
	switch {
	case errors.As(err, &wrong):
		return f, f.wrongValue(wrong, text, t)
	case err != nil:
		return f, &Error{File: name, What: strings.TrimPrefix(err.Error(), "toml: ")}
	}
	return f, w.faults(name)
}

func (f TOMLFile) wrongValue(d *toml.DecodeError, text []byte, t reflect.Type) error {
	line, _ := d.Position()
	e := &Error{File: f.Name, Line: line}
	what := strings.TrimPrefix(d.Error(), "toml: ")
	switch key := d.Key(); {
	case len(key) > 0 && strings.HasPrefix(what, "cannot decode"):
		e.What = fmt.Sprintf("%s wants %s", shortened(strings.Join(key, ".")), kindName(TypeAt(t, key)))
		e.Hint = "the line reads: " + lineOf(text, line)
	default:
		e.What = what
		e.Hint = "the line reads: " + lineOf(text, line) +
			"\n(text stands in double quotes; numbers use a point and carry no unit)"
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

// SchemaOf is what a TOML file states as its schema before its first table; "" where it states none
// or is no TOML.
func SchemaOf(text []byte) string {
	var p unstable.Parser
	p.Reset(bytes.TrimPrefix(text, []byte("\xef\xbb\xbf")))
	for p.NextExpression() {
		e := p.Expression()
		if e.Kind != unstable.KeyValue {
			return ""
		}
		it := e.Key()
		it.Next()
		if it.IsLast() && strings.EqualFold(string(it.Node().Data), "schema") && e.Value().Kind == unstable.String {
			return string(e.Value().Data)
		}
	}
	return ""
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
		return nil, &Error{File: path, What: fmt.Sprintf("is larger than %d kB", limit/1024),
			Hint: "is this the right file?"}
	}
	return data, nil
}
