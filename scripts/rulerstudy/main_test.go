package main

import (
	"io"
	"testing"

	"leadmark/fit/note"
	"leadmark/vision/ruler"
	"leadmark/vision/synth/crops"
	"leadmark/vision/synth/plane"
)

// TestStudyInShort is the study in small, on a seed of its own. What takes many frames to tell is
// left to the study.
func TestStudyInShort(t *testing.T) {
	r, err := study(options{seed: 20262, frames: 3, without: 24, class: "plain,lines,noisy,none"}, io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	for class, n := range map[string]int{"plain": 3, "lines": 3, "noisy": 3, none: 24} {
		if len(r[class]) != n {
			t.Errorf("%d pictures of class %s, want %d", len(r[class]), class, n)
		}
	}
	for _, x := range r[none] {
		if x.read {
			t.Errorf("read where there is no ruler: %s", x)
		}
	}
	s := r.claims()
	if err := s.Print(io.Discard); err != nil {
		t.Fatal(err)
	}
}

// level is a ruler of 100 px a cm from x = 100 on, its front end at the right, x = 1050.
func level() crops.Truth {
	s := crops.ScaleTruth{StepMM: 1, PxPerMM: 10, FrontMM: -5, Readable: true,
		Reading: func(at plane.Point) float64 { return (1000 - at.X) / 10 }}
	for k := range 80 {
		at := plane.Point{X: 1000 - 10*float64(k), Y: 50}
		s.Graduations = append(s.Graduations, crops.Graduation{MM: float64(k), At: at})
	}
	return crops.Truth{Scales: []crops.ScaleTruth{s}, FrontInView: true, FrontRead: true, PxPerMM: 10,
		FrontEdge: [2]plane.Point{{X: 1050, Y: 0}, {X: 1050, Y: 100}}, Toward: plane.Point{X: 1},
		Outside: func(at plane.Point) float64 { return (at.X - 1050) / 10 }}
}

// readingOf is a faultless one of it, from graduation to graduation.
func readingOf(from, to int) ruler.Reading {
	axis := ruler.Axis{Origin: ruler.Point{Y: 50}, Dir: ruler.Point{X: 1}}
	r := ruler.Reading{Status: ruler.StatusRead, Graduation: 1e-3, Absolute: true, PxPerM: 1e4}
	r.Scale = ruler.Scale{Dir: axis.Dir, Side: 1, T0: 1000, T1: -1e4,
		Long: ruler.Line{A: axis.Origin, B: ruler.Point{X: 1, Y: 50}}}
	r.Graduations = ruler.Graduations{Axis: axis, First: float64(from) * 1e-3, Step: 1e-3}
	for k := from; k <= to; k++ {
		r.Graduations.T = append(r.Graduations.T, float32(1000-10*k))
		r.Graduations.Seen = append(r.Graduations.Seen, true)
	}
	r.Front = &ruler.End{Line: ruler.Line{A: ruler.Point{X: 1050}, B: ruler.Point{X: 1050, Y: 100}}, U: 0.1}
	return r
}

// Each thing that can be wrong with a reading is found out.
func TestJudgeFindsWhatIsWrong(t *testing.T) {
	truth := level()
	for _, c := range []struct {
		name  string
		spoil func(r *ruler.Reading)
		want  func(x outcome) bool
	}{
		{"nothing", func(*ruler.Reading) {}, func(x outcome) bool { return !x.bad() && x.placed && x.found }},
		{"a wrong unit", func(r *ruler.Reading) { r.Scale.T1 *= 0.508 }, func(x outcome) bool { return x.wrong }},
		{"a wrong unit, flagged", func(r *ruler.Reading) {
			r.Scale.T1 *= 1.02
			r.Warnings = []note.Note{note.New("graduation-unsure")}
		}, func(x outcome) bool { return x.unsure && !x.wrong }},
		{"a bent scale", func(r *ruler.Reading) { r.Scale.T2 = 1 }, func(x outcome) bool { return x.wrong }},
		{"a zero elsewhere", func(r *ruler.Reading) { r.Scale.T0 += 100 }, func(x outcome) bool { return x.absolute }},
		{"a zero elsewhere that is none", func(r *ruler.Reading) { r.Scale.T0, r.Absolute = r.Scale.T0+100, false },
			func(x outcome) bool { return !x.absolute && !x.wrong }},
		{"the other way", func(r *ruler.Reading) {
			r.Scale.T1, r.Scale.T0 = -r.Scale.T1, r.Scale.T0-800
			for i := range r.Graduations.T {
				r.Graduations.T[i] = 200 + 10*float32(i)
			}
		}, func(x outcome) bool { return x.absolute }},
		{"an end elsewhere", func(r *ruler.Reading) { r.Front.Line.A.X, r.Front.Line.B.X = 1054, 1054 },
			func(x outcome) bool { return x.end && !x.found }},
		{"no end", func(r *ruler.Reading) { r.Front = nil }, func(x outcome) bool { return x.bad() && !x.end }},
		{"refused", func(r *ruler.Reading) { r.Status = ruler.StatusRefused },
			func(x outcome) bool { return x.bad() && !x.read }},
	} {
		r := readingOf(0, 60)
		c.spoil(&r)
		x := outcome{class: "plain"}
		x.judge(r, r, &truth)
		if !c.want(x) {
			t.Errorf("%s: %+v", c.name, x)
		}
	}
	x := outcome{class: "plain"}
	x.judge(readingOf(-8, 60), readingOf(-8, 60), &truth)
	if !x.phantom {
		t.Error("graduations beyond the end were not noticed")
	}
	if x = (outcome{class: none}); x.bad() {
		t.Error("a refused picture without a ruler is bad")
	}
	x.without(readingOf(0, 60))
	if !x.bad() {
		t.Error("a picture without a ruler that was read is good")
	}
}

// Told the front end's reading, a reading counts from there, whichever way the ruler's own rise.
func TestCountsFromTheFrontEnd(t *testing.T) {
	turned := fitted{sense: -1, offset: 640}
	if !turned.counts(true, 320, 0.3) || turned.counts(false, 320, 0.3) || turned.counts(true, 310, 0.3) {
		t.Error("a turned ruler counts from the front end it was told of, and from nothing else")
	}
	right := fitted{sense: 1, offset: 0.1}
	if !right.counts(true, 320, 0.3) || !right.counts(false, 320, 0.3) || right.counts(true, 0, 0.05) {
		t.Error("a right reading counts as the ruler does")
	}
}
