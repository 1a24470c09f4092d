package rig

import (
	"bytes"
	"testing"
)

func FuzzDescription(f *testing.F) {
	f.Add([]byte(example))
	f.Add([]byte(description("x")))
	f.Fuzz(func(t *testing.T, text []byte) {
		p, err := Parse("rig.toml", text)
		if err != nil {
			return
		}
		written, err := Describe(p).TOML()
		if err != nil {
			t.Fatal(err)
		}
		q, err := Parse("again", written)
		if err != nil {
			t.Fatalf("%v\n%s", err, written)
		}
		again, err := Describe(q).TOML()
		if err != nil || !bytes.Equal(written, again) {
			t.Errorf("%v\n%s\n%s", err, written, again)
		}
	})
}

func FuzzHistory(f *testing.F) {
	line, err := entry("a note").line()
	if err != nil {
		f.Fatal(err)
	}
	f.Add(line)
	f.Add(append(append([]byte("\n{}\n"), line...), line[:30]...))
	f.Fuzz(func(t *testing.T, text []byte) {
		h := ParseHistory(text)
		var written []byte
		for _, e := range h.Entries {
			line, err := e.line()
			if err != nil {
				return // a year beyond what RFC 3339 can write
			}
			written = append(written, line...)
		}
		again := ParseHistory(written)
		if len(again.Entries) != len(h.Entries) || len(again.Damaged) != 0 {
			t.Fatalf("%d entries, then %d, damaged %v", len(h.Entries), len(again.Entries), again.Damaged)
		}
		for i := range h.Entries {
			a, _ := h.Entries[i].line()
			b, _ := again.Entries[i].line()
			if !bytes.Equal(a, b) {
				t.Errorf("%s\n%s", a, b)
			}
		}
		whole, torn := splitTorn(text)
		if !bytes.Equal(append(append([]byte{}, whole...), torn...), text) {
			t.Error("bytes were lost")
		}
	})
}
