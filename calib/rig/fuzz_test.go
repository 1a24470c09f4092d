package rig

import (
	"bytes"
	"testing"

	"leadmark/calib/store"
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
	withSetup := nightly(1, 52.3, &Setup{Body: "Bench 7", FocalMM: 100, Varies: []string{"f_number"}})
	line, err := withSetup.line()
	if err != nil {
		f.Fatal(err)
	}
	back, err := lineOf(Restore{Schema: restoreSchema, Restored: withSetup.Accepted, Calibration: 1,
		Accepted: withSetup.Accepted, RunSHA256: withSetup.RunSHA256, Note: "why"})
	if err != nil {
		f.Fatal(err)
	}
	f.Add(line)
	f.Add([]byte(oldLine))
	f.Add(append(append([]byte("\n{}\n"), line...), line[:30]...))
	f.Add(append(append([]byte{}, line...), back...))
	f.Add(append(append(append([]byte(oldLine), line...), back...), oldLine...))
	f.Fuzz(func(t *testing.T, text []byte) {
		h := ParseHistory(text)
		written, ok := writeAgain(h)
		if !ok {
			return // a year beyond what RFC 3339 can write
		}
		again := ParseHistory(written)
		if len(again.Entries) != len(h.Entries) || len(again.Restores) != len(h.Restores) || len(again.Damaged) != 0 {
			t.Fatalf("%d entries, then %d, damaged %v", len(h.Entries), len(again.Entries), again.Damaged)
		}
		if twice, _ := writeAgain(again); !bytes.Equal(written, twice) {
			t.Errorf("%s\n%s", written, twice)
		}
		a, _ := h.InForce()
		b, _ := again.InForce()
		if a.Number != b.Number {
			t.Errorf("%d is in force, then %d", a.Number, b.Number)
		}
		_ = NewHistoryDocument("greenhouse", h) // whatever the numbers: no panic, and it ends
		whole, torn := store.SplitTorn(text)
		if !bytes.Equal(append(append([]byte{}, whole...), torn...), text) {
			t.Error("bytes were lost")
		}
	})
}

// writeAgain writes a history's lines in their order.
func writeAgain(h History) (text []byte, ok bool) {
	restores := h.Restores
	for i := 0; i <= len(h.Entries); i++ {
		for len(restores) > 0 && restores[0].after == i {
			line, err := lineOf(restores[0])
			if err != nil {
				return nil, false
			}
			text, restores = append(text, line...), restores[1:]
		}
		if i < len(h.Entries) {
			line, err := h.Entries[i].line()
			if err != nil {
				return nil, false
			}
			text = append(text, line...)
		}
	}
	return text, true
}
