package main

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"
)

// said are the differences of two texts as they are printed.
func said(t *testing.T, r rules, name, base, head string) []string {
	t.Helper()
	list, _ := r.compare(name, []byte(base), []byte(head))
	var out []string
	for _, d := range list {
		out = append(out, d.String())
	}
	return out
}

func expect(t *testing.T, got []string, want ...string) {
	t.Helper()
	if !slices.Equal(got, want) {
		t.Errorf("got\n  %s\nwant\n  %s", strings.Join(got, "\n  "), strings.Join(want, "\n  "))
	}
}

func TestKeysWithBothValuesAndUnitsOfU(t *testing.T) {
	base := `{"lag": {"value_ms": 38.2, "u_ms": 0.5, "interval95_ms": [37.2, 39.2]}, "rig": "a",
		"frames": [{"file": "1.JPG", "advance_mm": 60.0, "u_mm": 0.02, "front_px": [10.5, 20]}, {"file": "2.JPG",
			"advance_mm": 61.0, "u_mm": 0.02}]}`
	head := `{"lag": {"value_ms": 38.7, "u_ms": 0.6, "interval95_ms": [37.2, 39.7]}, "rig": "b",
		"frames": [{"file": "1.JPG", "advance_mm": 60.0, "u_mm": 0.02, "front_px": [10.5, 21]}, {"file": "3.JPG",
			"advance_mm": 61.0}]}`
	expect(t, said(t, rules{}, "result.json", base, head),
		"lag.value_ms: 38.2 -> 38.7  +1 u (u_ms = 0.5)",
		"lag.u_ms: 0.5 -> 0.6  +20 %",
		"lag.interval95_ms[1]: 39.2 -> 39.7  +1 u (u_ms = 0.5)",
		`rig: "a" -> "b"`,
		"frames[1.JPG].front_px[1]: 20 -> 21  +5 %",
		`frames[2.JPG].file: "2.JPG" -> (absent)`,
		"frames[2.JPG].advance_mm: 61.0 -> (absent)",
		"frames[2.JPG].u_mm: 0.02 -> (absent)",
		`frames[3.JPG].file: (absent) -> "3.JPG"`,
		"frames[3.JPG].advance_mm: (absent) -> 61.0")
}

// Every way in which an uncertainty stands beside its value in the formats.
func TestUncertaintyBeside(t *testing.T) {
	for _, c := range []struct {
		text, path, name string
		u                float64
	}{
		{`{"value_ms": 1, "u_ms": 0.2}`, "value_ms", "u_ms", 0.2},
		{`{"speed_mps": 1, "u_speed_mps": 0.3, "u_mps": 9}`, "speed_mps", "u_speed_mps", 0.3},
		{`{"effect_ms": 1, "u_effect_ms": 0.4}`, "effect_ms", "u_effect_ms", 0.4},
		{`{"probability": 0.9, "probability_u": 0.01}`, "probability", "probability_u", 0.01},
		{`{"along_mm": [1, 2], "edge_u_mm": 0.1}`, "along_mm[1]", "edge_u_mm", 0.1},
		{`{"graduation": 1, "u": 0.1}`, "graduation", "u", 0.1},
		{`{"a": {"value_ms": 1, "interval95_ms": [0, 3.92]}}`, "a.value_ms", "interval95_ms/3.92", 1},
		{`{"speed_mps": 1, "speed_interval95_mps": [0, 7.84]}`, "speed_mps", "speed_interval95_mps/3.92", 2},
		{`{"speed_interval95_mps": [0, 3.92]}`, "speed_interval95_mps[0]", "speed_interval95_mps/3.92", 1},
		{`{"ratio": 1, "interval95": [0, 3.92]}`, "ratio", "interval95/3.92", 1},
		{`{"front_px": [1, 2], "u_front_px": 0.5}`, "front_px[0]", "u_front_px", 0.5},
		{`{"px_per_mm": 9, "u_mm": 0.5}`, "px_per_mm", "", 0},
		{`{"u_ms": 9, "u": 0.5}`, "u_ms", "", 0},
		{`{"lag": {"value_ms": 1}, "u_ms": 0.5}`, "lag.value_ms", "", 0},
	} {
		d, err := readJSON([]byte(c.text), nil)
		if err != nil {
			t.Fatal(err)
		}
		u, name := d.uncertainty(d.leaves[d.at[c.path]])
		if math.Abs(u-c.u) > 1e-12 || name != c.name {
			t.Errorf("%s of %s: got %g by %q, want %g by %q", c.path, c.text, u, name, c.u, c.name)
		}
	}
}

func TestColumnsOfTables(t *testing.T) {
	base := "frame,advance_mm,u_mm,why\n1.JPG,60,0.5,a\n2.JPG,61,0.5,\n"
	head := "frame,advance_mm,u_mm,why\n0.JPG,59,0.5,\n1.JPG,60.5,0.5,b\n2.JPG,61,0.5,\n"
	expect(t, said(t, rules{leaveOut: []string{"why"}}, "readings.csv", base, head),
		"[1.JPG].advance_mm: 60 -> 60.5  +1 u (u_mm = 0.5)",
		"[0.JPG].file: (absent) -> 0.JPG",
		"[0.JPG].advance_mm: (absent) -> 59",
		"[0.JPG].u_mm: (absent) -> 0.5")
}

func TestLinesOfJSON(t *testing.T) {
	expect(t, said(t, rules{}, "calibrations.jsonl", "{\"n\": 1}\n{\"n\": 2}\n", "{\"n\": 1}\n{\"n\": 3}\n"),
		"[1].n: 2 -> 3  +50 %")
}

// What is written otherwise but means the same is a difference all the same: what is compared is bytes.
func TestOtherBytesOfTheSameValues(t *testing.T) {
	for _, head := range []string{`{"b": 2, "a": 1}`, `{"a": 1,  "b": 2}`, `{"a": 1.0, "b": 2}`,
		`{"a": 1, "b": 2, "b": 2}`} {
		if got := said(t, rules{}, "x.json", `{"a": 1, "b": 2}`, head); len(got) != 1 {
			t.Errorf("%s: %q", head, got)
		}
	}
}

func TestLeftOut(t *testing.T) {
	r := rules{leaveOut: []string{"version", "*.pdf", "frames/*.svg"}, own: [2][]string{{"0.9.1"}, {"0.10.0"}}}
	list, leftOut := r.compare("x.json", []byte(`{"version": 1, "a": {"version": 3}}`),
		[]byte(`{"version": 2, "a": {"version": 4}}`))
	if len(list) != 0 || leftOut != 4 {
		t.Errorf("%v, %d left out, want none and 4", list, leftOut)
	}
	expect(t, said(t, r, "x.json", `{"version": 1, "a": 1, "b": 2}`, `{"version": 2, "b": 2, "a": 1}`),
		"the order of the keys: one -> another")
	expect(t, said(t, r, "x.html", "<p>leadmark 0.9.1</p>", "<p>leadmark 0.10.0</p>"))
	for file, want := range map[string]bool{"a/b.pdf": true, "frames/1.svg": true, "a.svg": false,
		"version.txt": false} {
		if r.leavesOut(file) != want {
			t.Errorf("%s left out: %t", file, !want)
		}
	}
}

func TestTimesOfTheComparisonAlone(t *testing.T) {
	from := time.Date(2026, 5, 3, 9, 59, 30, 0, time.UTC)
	r := rules{from: from, to: from.Add(3*time.Minute + 600*time.Millisecond)}
	for _, c := range []struct{ base, head string }{
		{`"2026-05-03T10:00:00.25Z"`, `"2026-05-03T10:01:00Z"`},
		{`"2026-05-03T09:59:30Z"`, `"2026-05-03T10:02:31Z"`}, // rounded up at the end
		{"2026-05-03 09:59:30", "2026-05-03 10:00:01"},
		{"2026-05-03 09:59", "2026-05-03 10:01"},
		{"Made 3 May 2026, 09:59 UTC", "Made 3 May 2026, 10:01 UTC"},
		{"put back on 3 May 2026 09:59", "put back on 3 May 2026 10:02"},
		{"(D:20260503095930)", "(D:20260503100100)"},
	} {
		expect(t, said(t, r, "x.txt", c.base, c.head))
		if c.base == `"2026-05-03T10:00:00.25Z"` {
			continue
		}
		if other := strings.Replace(c.head, "2026", "2025", 1); len(said(t, r, "x.txt", c.base, other)) == 0 {
			t.Errorf("%q passes for %q", other, c.base)
		}
	}
	expect(t, said(t, r, "x.txt", "learned 2026-05-03", "learned 2026-05-04"),
		`line 1: "learned (now)" -> "learned 2026-05-04"`)
}

func TestTexts(t *testing.T) {
	expect(t, said(t, rules{}, "x.html", "<p>\n<b>lag 52.3 ms ± 0.2</b>\n", "<p>\n<b>lag 52.4 ms ± 0.2</b>\n"),
		`line 2, behind "<b>lag": 52.3 -> 52.4  +0.19 %`)
	expect(t, said(t, rules{}, "x.txt", "one\ntwo\nthree\n", "one\nthree\n"), `line 2: "two" -> (absent)`)
	expect(t, said(t, rules{}, "x.txt", "share  50.00\n", "share 100.00\n"),
		`line 1, behind "share": 50.00 -> 100.00  +1e+02 %`)
	expect(t, said(t, rules{}, "x.txt", "one 1 a\n", "one 1 b\n"), `line 1: "one 1 a" -> "one 1 b"`)
	expect(t, said(t, rules{}, "x.png", "\xff\x00a", "\xff\x01ab"), "from byte 1 on: 3 bytes -> 4 bytes")
	expect(t, said(t, rules{study: true}, "x.stdout",
		"seed 1, 12 s on 2 processors\nok  \tleadmark/fit\t1.5s\n    a_test.go:12: 7\n",
		"seed 1, 9 s on 2 processors\nok  \tleadmark/fit\t2.5s\n    b_test.go:9: 7\n"))
	expect(t, said(t, rules{}, "x.html", `<meta name="leadmark-made-from" content="0a1"/>`,
		`<meta name="leadmark-made-from" content="0b7"/>`))
	pdf := "/F0a 5 0 R\n/F1b 6 0 R\n5 0 obj\nHelvetica\n6 0 obj\nCourier\n0000004311 00000 n \n"
	expect(t, said(t, rules{}, "x.pdf", pdf, "/F1b 5 0 R\n/F0a 6 0 R\n5 0 obj\nCourier\n6 0 "+
		"obj\nHelvetica\n0000004300 00000 n \n"))
	if got := said(t, rules{}, "x.pdf", pdf, strings.Replace(pdf, "Courier", "Courier-Bold", 1)); len(got) == 0 {
		t.Error("another font in a PDF passes")
	}
	if got := said(t, rules{}, "x.svg", "base64,AAAA1", "base64,AAAA2"); len(got) != 1 {
		t.Errorf("two pictures in a page: %q", got)
	}
}
