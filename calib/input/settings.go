package input

import (
	"encoding/json"
	"fmt"
	"maps"
	"reflect"
	"strconv"
	"strings"
)

// Setting is one key of a file that a flag can stand in for.
type Setting struct {
	Key  string // dotted key
	Flag string // name of the flag, without dashes
	Help string
}

// Settings lists the keys of the struct type t that carry a flag tag, in the order of its fields.
func Settings(t reflect.Type) []Setting { return settingsOf(t, "") }

func settingsOf(t reflect.Type, prefix string) []Setting {
	var all []Setting
	for i := range t.NumField() {
		f := t.Field(i)
		key := prefix + tomlName(f)
		switch inner := structOf(f.Type); {
		case f.Tag.Get("flag") != "":
			all = append(all, Setting{Key: key, Flag: f.Tag.Get("flag"), Help: f.Tag.Get("help")})
		case inner.Kind() == reflect.Struct:
			all = append(all, settingsOf(inner, key+".")...)
		}
	}
	return all
}

// Overrides are what the command line says in the place of a file's keys.
type Overrides struct {
	values map[string]string // dotted key to the flag's text
}

// Set puts the text of a flag in the place of a key.
func (o *Overrides) Set(key, text string) {
	if o.values == nil {
		o.values = map[string]string{}
	}
	o.values[key] = text
}

// With returns the overrides with one more; o keeps its own.
func (o Overrides) With(key, text string) Overrides {
	o.values = maps.Clone(o.values)
	o.Set(key, text)
	return o
}

// Value returns the text that stands in the place of a key.
func (o Overrides) Value(key string) (text string, given bool) {
	text, given = o.values[key]
	return text, given
}

// Apply writes the overrides into the struct that file points to and returns the flags that stand
// for keys. A text that does not fit its key is an *Error that names the flag.
func (o Overrides) Apply(file any) (flags map[string]string, err error) {
	flags = map[string]string{}
	var wrong List
	v := reflect.ValueOf(file).Elem()
	for _, s := range Settings(v.Type()) {
		text, given := o.values[s.Key]
		if !given {
			continue
		}
		flags[s.Key] = "--" + s.Flag
		if err := setKey(v, strings.Split(s.Key, "."), text); err != nil {
			wrong.Add(&Error{File: "--" + s.Flag, What: err.Error(), Hint: s.Help})
		}
	}
	return flags, wrong.Err("the command line")
}

// Values are the overrides by key; nil without any.
func (o Overrides) Values() map[string]string { return maps.Clone(o.values) }

// Text is the overrides as bytes, nil without any, so that what is described by files alone keeps
// its digest.
func (o Overrides) Text() []byte {
	if len(o.values) == 0 {
		return nil
	}
	text, _ := json.Marshal(o.values) // sorted by key
	return text
}

// setKey sets the field that the keys lead to, making the tables on the way.
func setKey(v reflect.Value, key []string, text string) error {
	for i := range v.NumField() {
		if tomlName(v.Type().Field(i)) != key[0] {
			continue
		}
		f := v.Field(i)
		if len(key) == 1 {
			return setField(f, text)
		}
		if f.IsNil() {
			f.Set(reflect.New(f.Type().Elem()))
		}
		return setKey(f.Elem(), key[1:], text)
	}
	return fmt.Errorf("no key %s", key[0])
}

func setField(f reflect.Value, text string) error {
	switch to := f.Addr().Interface().(type) {
	case **string:
		*to = &text
	case **float64:
		x, err := ParseNumber(text)
		if err != nil {
			return err
		}
		*to = &x
	case *[]float64:
		return setNumbers(to, text)
	case *[][]float64:
		var points [][]float64
		if err := json.Unmarshal([]byte(text), &points); err != nil {
			return fmt.Errorf("wants two points such as [[2010,0],[2010,3999]], not %q", text)
		}
		*to = points
	}
	return nil
}

// setNumbers reads numbers with commas between them, with or without brackets about them.
func setNumbers(to *[]float64, text string) error {
	var all []float64
	for _, part := range strings.Split(strings.Trim(strings.TrimSpace(text), "[]"), ",") {
		x, err := ParseNumber(part)
		if err != nil {
			return fmt.Errorf("wants numbers with commas between them, such as 10,10, not %q", text)
		}
		all = append(all, x)
	}
	*to = all
	return nil
}

// ParseNumber reads a number as the formats write it: a point, no unit.
func ParseNumber(text string) (float64, error) {
	x, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil || strings.ContainsAny(text, "xX_") {
		if strings.Contains(text, ",") {
			return 0, fmt.Errorf("%q is not a number: decimals are written with a point", text)
		}
		return 0, fmt.Errorf("%q is not a number: write it with a point and without a unit", text)
	}
	return x, nil
}
