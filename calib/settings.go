package calib

import (
	"encoding/json"
	"fmt"
	"reflect"
	"strconv"
	"strings"
)

// Setting is one key of run.toml that a flag can stand in for.
type Setting struct {
	Key  string // dotted key
	Flag string // name of the flag, without dashes
	Help string
}

// Settings lists the keys of run.toml in the order of the file.
func Settings() []Setting { return settingsOf(reflect.TypeFor[RunFile](), "") }

func settingsOf(t reflect.Type, prefix string) []Setting {
	var all []Setting
	for i := range t.NumField() {
		f := t.Field(i)
		key := prefix + tomlName(f)
		if flag := f.Tag.Get("flag"); flag != "" {
			all = append(all, Setting{Key: key, Flag: flag, Help: f.Tag.Get("help")})
		} else {
			all = append(all, settingsOf(structOf(f.Type), key+".")...)
		}
	}
	return all
}

// Overrides are what the command line says of the run in the place of run.toml.
type Overrides struct {
	values map[string]string // dotted key to the flag's text
	// ByHand says that the advances were read elsewhere: the pictures, the ruler and the way it
	// travels need not be described, and frames need not be in the folder.
	ByHand bool
}

// Set puts the text of a flag in the place of a key of run.toml.
func (o *Overrides) Set(key, text string) {
	if o.values == nil {
		o.values = map[string]string{}
	}
	o.values[key] = text
}

// apply writes the overrides into the file and returns the flags that stand for keys.
func (o Overrides) apply(file *RunFile) (map[string]string, error) {
	flags := map[string]string{}
	var wrong faults
	for _, s := range Settings() {
		text, given := o.values[s.Key]
		if !given {
			continue
		}
		flags[s.Key] = "--" + s.Flag
		if err := setKey(reflect.ValueOf(file).Elem(), strings.Split(s.Key, "."), text); err != nil {
			wrong.add(&InputError{File: "--" + s.Flag, What: err.Error(), Hint: s.Help})
		}
	}
	return flags, wrong.err("the command line")
}

// text is the overrides as bytes, nil without any, so that a run described by its files alone keeps
// its digest.
func (o Overrides) text() []byte {
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
		x, err := parseNumber(text)
		if err != nil {
			return err
		}
		*to = &x
	case *[][]float64:
		var points [][]float64
		if err := json.Unmarshal([]byte(text), &points); err != nil {
			return fmt.Errorf("wants two points such as [[2010,0],[2010,3999]], not %q", text)
		}
		*to = points
	}
	return nil
}

// parseNumber reads a number as the formats write it: a point, no unit.
func parseNumber(text string) (float64, error) {
	x, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil || strings.ContainsAny(text, "xX_") {
		if strings.Contains(text, ",") {
			return 0, fmt.Errorf("%q is not a number: decimals are written with a point", text)
		}
		return 0, fmt.Errorf("%q is not a number: write it with a point and without a unit", text)
	}
	return x, nil
}
