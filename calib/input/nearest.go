package input

import (
	"fmt"
	"reflect"
	"sort"
	"strings"
)

// unitNames are the unit suffixes of the file formats.
func unitNames() map[string]string {
	return map[string]string{
		"mm": "millimetres", "ms": "milliseconds", "us": "microseconds", "s": "seconds", "m": "metres",
		"mps": "metres per second", "mps2": "metres per second squared", "deg": "degrees",
		"px": "pixels", "stops": "stops", "days": "days",
	}
}

// unknownKey says what is wrong with a key that the struct type t does not have, and which key
// was probably meant: the same quantity in the right unit, the same name in another table, or
// the nearest spelling.
func unknownKey(key []string, t reflect.Type) (what, hint string) {
	name := key[len(key)-1]
	table := key[:len(key)-1]
	here := TypeAt(t, table)
	what = "unknown key " + shortened(name)
	if len(table) > 0 {
		what += " in [" + shortened(strings.Join(table, ".")) + "]"
	}
	known := keysOf(here)
	if want, unit := sameQuantity(name, known); want != "" {
		return fmt.Sprintf("%s: this is given in %s", what, unit), "write " + want + describe(here, want)
	}
	if place := elsewhere(name, t, nil); place != "" {
		return what, shortened(name) + " belongs " + place
	}
	if want := Nearest(name, known); want != "" {
		return what, "the nearest known key is " + want + describe(here, want)
	}
	return what, "known here: " + strings.Join(known, ", ")
}

// sameQuantity finds the known name that differs from name in its unit suffix alone, and that
// unit in words.
func sameQuantity(name string, known []string) (want, unit string) {
	units := unitNames()
	for _, k := range known {
		i := strings.LastIndex(k, "_")
		if i < 0 || units[k[i+1:]] == "" {
			continue
		}
		stem := k[:i]
		rest, ok := strings.CutPrefix(name, stem)
		if name != k && ok && (rest == "" || rest[0] == '_' && isUnit(rest[1:])) {
			return k, units[k[i+1:]]
		}
	}
	return "", ""
}

// isUnit tells a unit suffix, of ours or of another habit, from a word.
func isUnit(s string) bool {
	switch strings.ToLower(s) {
	case "cm", "dm", "km", "in", "inch", "inches", "ft", "feet", "um", "nm", "min", "h", "kmh", "kph", "mph",
		"fps", "rad", "g", "percent", "sec":
		return true
	}
	return unitNames()[s] != ""
}

// Nearest returns the known name within a third of its length of edits from name, else one that
// begins alike, "" when there is neither.
func Nearest(name string, known []string) string {
	best, distance := "", len(name)
	alike, length := "", 3
	name = strings.ToLower(name)
	for _, k := range known {
		n := commonStart(name, strings.ToLower(k))
		if n > length {
			alike, length = k, n
		}
		most := (max(len(k), len(name), 3) + 2) / 3
		if len(name)-len(k) > most || len(k)-len(name) > most { // so many edits at least
			continue
		}
		d := edits(name, strings.ToLower(k))
		closer := d < distance || d == distance && n > commonStart(name, strings.ToLower(best))
		if closer && d <= most {
			best, distance = k, d
		}
	}
	if best == "" {
		return alike
	}
	return best
}

// shortened is a name as a message can hold it.
func shortened(name string) string {
	const most = 60
	if len(name) <= most {
		return name
	}
	return strings.ToValidUTF8(name[:most], "") + "..."
}

func commonStart(a, b string) int {
	n := 0
	for n < min(len(a), len(b)) && a[n] == b[n] {
		n++
	}
	return n
}

// edits is the edit distance: insertions, deletions and replacements that turn a into b.
func edits(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := diagonal
			if a[i] != b[j] {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}

// structOf strips pointers and slices off a type.
func structOf(t reflect.Type) reflect.Type {
	for t != nil && (t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice) {
		t = t.Elem()
	}
	return t
}

// TypeAt follows dotted TOML keys through struct types; nil when they lead nowhere.
func TypeAt(t reflect.Type, key []string) reflect.Type {
	for _, k := range key {
		s := structOf(t)
		if s == nil || s.Kind() != reflect.Struct {
			return nil
		}
		f, ok := fieldNamed(s, k)
		if !ok {
			return nil
		}
		t = f.Type
	}
	return t
}

func fieldNamed(s reflect.Type, key string) (reflect.StructField, bool) {
	for i := range s.NumField() {
		if tomlName(s.Field(i)) == key {
			return s.Field(i), true
		}
	}
	return reflect.StructField{}, false
}

// tomlName is the key of a field, without the options of its tag.
func tomlName(f reflect.StructField) string {
	name, _, _ := strings.Cut(f.Tag.Get("toml"), ",")
	return name
}

func keysOf(t reflect.Type) []string {
	var keys []string
	if s := structOf(t); s != nil && s.Kind() == reflect.Struct {
		for i := range s.NumField() {
			keys = append(keys, tomlName(s.Field(i)))
		}
	}
	sort.Strings(keys)
	return keys
}

// Help is what a key of the struct type t means, from its help tag.
func Help(t reflect.Type, key string) string {
	f, _ := fieldNamed(structOf(t), key)
	return f.Tag.Get("help")
}

func describe(t reflect.Type, key string) string {
	if help := Help(t, key); help != "" {
		return " (" + help + ")"
	}
	return ""
}

// elsewhere finds the table that has the key.
func elsewhere(name string, t reflect.Type, table []string) string {
	s := structOf(t)
	if s == nil || s.Kind() != reflect.Struct {
		return ""
	}
	if f, ok := fieldNamed(s, name); ok && structOf(f.Type).Kind() != reflect.Struct {
		if len(table) == 0 {
			return "at the top of the file, before the first [table]"
		}
		return "in [" + strings.Join(table, ".") + "]"
	}
	for i := range s.NumField() {
		f := s.Field(i)
		if place := elsewhere(name, f.Type, append(table[:len(table):len(table)], tomlName(f))); place != "" {
			return place
		}
	}
	return ""
}

func kindName(t reflect.Type) string {
	if t == nil {
		return "another kind of value"
	}
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	switch t.Kind() {
	case reflect.Float64, reflect.Int, reflect.Int64:
		return "a number, without quotes or unit"
	case reflect.String:
		return "text in double quotes"
	case reflect.Struct, reflect.Map:
		return "a [table] of its own"
	case reflect.Slice:
		if structOf(t).Kind() == reflect.Struct {
			return "a [[table]] of its own"
		}
		return "a list of numbers in square brackets"
	}
	return "another kind of value"
}
