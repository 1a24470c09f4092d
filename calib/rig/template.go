package rig

import (
	"fmt"
	"reflect"
	"strings"
)

// description is the text of a new rig.toml: every key as a comment that says what it means,
// with nothing filled in, so that no invented value can pass for a measured one.
func description(name string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "# The rig %q. Take the # off a line and fill it in; what is unknown stays out.\n", name)
	b.WriteString("# The program reads this file and never changes it.\n\n")
	t := reflect.TypeFor[rigFile]()
	for i := range t.NumField() {
		f := t.Field(i)
		table, _, _ := strings.Cut(f.Tag.Get("toml"), ",")
		switch f.Type.Kind() {
		case reflect.Slice:
			fmt.Fprintf(&b, "# one [[%s]] for each head\n# [[%s]]\n", table, table)
			describeKeys(&b, f.Type.Elem())
		default:
			fmt.Fprintf(&b, "[%s]\n", table)
			describeKeys(&b, f.Type)
		}
		b.WriteString("\n")
	}
	return b.String()
}

func describeKeys(b *strings.Builder, t reflect.Type) {
	for i := range t.NumField() {
		f := t.Field(i)
		key, _, _ := strings.Cut(f.Tag.Get("toml"), ",")
		fmt.Fprintf(b, "# %s = %s  # %s\n", key, shape(f.Type), f.Tag.Get("help"))
	}
}

// shape shows how a value is written, with nothing in it.
func shape(t reflect.Type) string {
	switch {
	case t.Kind() == reflect.Map:
		return `{ "1/1" =  }`
	case t.Kind() == reflect.Slice:
		return "[ , ]"
	case t.Elem().Kind() == reflect.String:
		return `""`
	}
	return ""
}
