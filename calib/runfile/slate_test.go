package runfile

import (
	"strings"
	"testing"
)

func TestParseSlate(t *testing.T) {
	s, is, err := ParseSlate("leadmark-slate/1 drop_mm=400 delay_ms=12.5\n")
	if !is || err != nil || *s.Drop != 0.4 || *s.Delay != 0.0125 || s.Speed != nil || s.Group != nil {
		t.Errorf("%+v %v %v", s, is, err)
	}
	if got := s.Text(); got != "leadmark-slate/1 drop_mm=400 delay_ms=12.5" {
		t.Error(got)
	}
	for text, want := range map[string]string{
		"leadmark-slate/2 drop_mm=400":               "does not know",
		"leadmark-slate/1":                           "no condition",
		"leadmark-slate/1 drop=400":                  `"drop"`,
		"leadmark-slate/1 drop_mm=0":                 "must be above 0",
		"leadmark-slate/1 drop_mm=1,5":               "point",
		"leadmark-slate/1 delay_ms=NaN":              "finite",
		"leadmark-slate/1 group=a,b":                 "one word",
		"leadmark-slate/1 group=a speed_mps=1":       "unknown speed",
		"leadmark-slate/1 drop_mm=100 speed_mps=1.5": "at once",
	} {
		if _, is, err := ParseSlate(text); !is || err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, %v; want %q", text, is, err, want)
		}
	}
	if _, is, _ := ParseSlate("a box of envelopes"); is {
		t.Error("any text is a slate")
	}
}

func FuzzParseSlate(f *testing.F) {
	f.Add("leadmark-slate/1 drop_mm=400 delay_ms=0")
	f.Add("leadmark-slate/1 group=b-2 delay_ms=1e1")
	f.Fuzz(func(t *testing.T, text string) {
		s, is, err := ParseSlate(text)
		if !is || err != nil {
			return
		}
		again, is, err := ParseSlate(s.Text())
		if !is || err != nil || again.Text() != s.Text() {
			t.Errorf("%q gives %q, which gives %q, %v", text, s.Text(), again.Text(), err)
		}
	})
}
