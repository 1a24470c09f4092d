package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"leadmark/fit/note"
	"leadmark/vision/ruler"
	"leadmark/vision/synth/crops"
	"leadmark/vision/synth/plane"
)

const (
	mostOff   = 0.3 // mm that a reading may be off
	mostOffPX = 1   // px, where that is more
	endOffPX  = 3   // px that a front end may be off
	farOff    = 5   // standard uncertainties, of an advance that is worth a look
)

// outcome is what became of one picture.
type outcome struct {
	class, text string
	number      uint64

	readable, read       bool // told
	readableAlone, alone bool // told nothing
	wrong, unsure        bool
	absolute, end        bool // claimed falsely
	phantom              bool
	frontReadable, found bool
	front, frontU        float64 // px, signed along the ruler
	placed               bool    // the advance is judged
	advance, u           float64 // mm
	perMM                float64
	reasons              []string
}

// without judges a picture that has no ruler.
func (x *outcome) without(r ruler.Reading) {
	if x.read = r.Status == ruler.StatusRead; x.read {
		x.say("read: %.4g mm, %d graduations", 1e3*r.Graduation, r.Graduations.Len())
	} else {
		x.say("%s", r.Reason.Code)
	}
}

func (x *outcome) say(format string, a ...any) {
	x.reasons = append(x.reasons, fmt.Sprintf(format, a...))
}

// judge holds the two readings against the truth.
func (x *outcome) judge(told, alone ruler.Reading, t *crops.Truth) {
	x.perMM = t.PxPerMM
	// A run needs the front end: where it cannot be read, a frame is rightly refused.
	x.readable, x.frontReadable = t.Scales[0].Readable && t.FrontRead, t.FrontRead
	for i := range t.Scales {
		x.readableAlone = x.readableAlone || t.Scales[i].Readable
	}
	x.read, x.alone = told.Status == ruler.StatusRead, alone.Status == ruler.StatusRead
	if x.read {
		scale, ok := x.scale("told", told, t.Scales[:1])
		x.ends("told", told, t, true)
		if ok {
			x.place(told, scale, t)
		}
	} else if x.readable {
		x.say("told: %s", told.Reason.Code)
	}
	if x.alone {
		x.scale("alone", alone, t.Scales)
		x.ends("alone", alone, t, false)
	} else if x.readableAlone {
		x.say("alone: %s", alone.Reason.Code)
	}
}

// scale finds the scale that a reading is of, and says whether it is right.
func (x *outcome) scale(how string, r ruler.Reading, scales []crops.ScaleTruth) (*crops.ScaleTruth, bool) {
	var best *crops.ScaleTruth
	fit := fitted{worst: math.Inf(1)}
	for i := range scales {
		if f := fitTo(r, &scales[i]); best == nil || f.worst < fit.worst {
			best, fit = &scales[i], f
		}
	}
	most := max(mostOff, mostOffPX/best.PxPerMM)
	flagged := slices.ContainsFunc(r.Warnings, func(n note.Note) bool { return n.Code == "graduation-unsure" })
	switch {
	case fit.worst > most && flagged:
		x.unsure = true
		return best, false
	case fit.worst > most:
		x.wrong = true
		x.say("%s: off by %.3g mm, graduation %.4g mm", how, fit.worst, 1e3*r.Graduation)
		return best, false
	case r.Absolute && !fit.counts(how == "told", best.FrontMM, most):
		x.absolute = true
		x.say("%s: absolute, but off by %.4g mm", how, fit.offset)
		return best, false
	}
	return best, true
}

// counts says whether readings count from the ruler's zero. Where the front end's reading was told,
// they count from there, and by the manual rise away from it whichever way the ruler's own go.
func (f fitted) counts(told bool, front, most float64) bool {
	if f.sense < 0 {
		return told && math.Abs(f.offset-2*front) <= most
	}
	return math.Abs(f.offset) <= most
}

// fitted is how a reading's values lie to the truth's: reading = sense x truth + offset.
type fitted struct {
	sense, offset, worst float64 // mm
}

// fitTo compares a reading with a scale where both are.
func fitTo(r ruler.Reading, s *crops.ScaleTruth) fitted {
	ends := r.Graduations.Ends()
	lo, hi := min(ends[0].Reading, ends[1].Reading), max(ends[0].Reading, ends[1].Reading)
	var got, want []float64
	for _, g := range s.Graduations {
		v := r.Scale.Reading(r.Scale.Along(ruler.Point{X: g.At.X, Y: g.At.Y}))
		if v >= lo-0.6*r.Graduation && v <= hi+0.6*r.Graduation {
			got, want = append(got, 1e3*v), append(want, g.MM)
		}
	}
	f := fitted{worst: math.Inf(1)}
	if len(got) < 3 {
		return f
	}
	n := len(got) - 1
	if f.sense = 1; (got[n]-got[0])*(want[n]-want[0]) < 0 {
		f.sense = -1
	}
	off := make([]float64, len(got))
	for i := range got {
		off[i] = got[i] - f.sense*want[i]
	}
	sorted := slices.Sorted(slices.Values(off))
	f.offset, f.worst = sorted[len(sorted)/2], 0
	for _, v := range off {
		f.worst = max(f.worst, math.Abs(v-f.offset))
	}
	return f
}

// ends judges the front end and what lies beyond the ruler.
func (x *outcome) ends(how string, r ruler.Reading, t *crops.Truth, told bool) {
	if n := beyond(r, t); n >= 2 {
		x.phantom = true
		x.say("%s: %d graduations beyond the end", how, n)
	}
	if r.Front == nil {
		if told && t.FrontRead && x.readable {
			x.say("%s: no front end", how)
		}
		return
	}
	most := max(endOffPX, mostOff*t.PxPerMM)
	front := aside(r, t.FrontEdge)
	if t.FrontInView && math.Abs(front) <= most {
		if told {
			x.found, x.front, x.frontU = t.FrontRead, front, r.Front.U
		}
		return
	}
	if !told && t.RearInView && math.Abs(aside(r, t.RearEdge)) <= most {
		return
	}
	x.end = true
	x.say("%s: front end off by %.3g px", how, front)
}

// aside is how far a reading's front end lies from a true edge's middle, px along the ruler.
func aside(r ruler.Reading, edge [2]plane.Point) float64 {
	m := edge[0].Add(edge[1]).Mul(0.5)
	at := ruler.Point{X: m.X, Y: m.Y}
	p, ok := r.Front.Line.Meet(ruler.Line{A: at, B: at.Add(r.Scale.Dir)})
	if !ok {
		return math.Inf(1)
	}
	return p.Sub(at).Dot(r.Scale.Dir)
}

// beyond counts the graduations that were seen beyond the ruler's ends by more than one of them.
func beyond(r ruler.Reading, t *crops.Truth) int {
	s := &t.Scales[0]
	n := 0
	for g := range r.Graduations.All() {
		if !g.Seen {
			continue
		}
		p := plane.Point{X: g.At.X, Y: g.At.Y}
		if t.Outside(p) > s.StepMM {
			n++
		}
	}
	return n
}

// place judges the reading at a line across the picture's middle.
func (x *outcome) place(r ruler.Reading, s *crops.ScaleTruth, t *crops.Truth) {
	if !r.Absolute || !x.readable {
		return
	}
	mid := s.Graduations[len(s.Graduations)/2].At
	at := ruler.Point{X: mid.X, Y: mid.Y}
	line := ruler.Line{A: at, B: at.Add(ruler.Point{X: -t.Toward.Y, Y: t.Toward.X})}
	if t.AlongMarks {
		line.B = at.Add(r.Scale.MarkDir(r.Scale.Along(at)))
	}
	v, u, p, ok := r.Scale.At(line)
	if t.AlongMarks {
		p = at
	}
	if !ok {
		x.say("off the track")
		return
	}
	way := math.Abs(s.Reading(plane.Point{X: p.X, Y: p.Y}) - s.FrontMM)
	x.placed, x.advance, x.u = true, math.Abs(1e3*v-s.FrontMM)-way, 1e3*u
}

// bad says whether anything went wrong.
func (x outcome) bad() bool {
	if x.class == none {
		return x.read
	}
	return x.wrong || x.absolute || x.end || x.phantom || x.readable && !x.read || x.readableAlone && !x.alone ||
		x.frontReadable && x.readable && !x.found || x.placed && math.Abs(x.advance) > farOff*x.u
}

func (x outcome) String() string {
	word := "ok "
	if x.bad() {
		word = "BAD"
	}
	said := strings.Join(x.reasons, "; ")
	if x.placed {
		said = strings.TrimPrefix(said+fmt.Sprintf("; advance off by %.4f mm, u %.4f", x.advance, x.u), "; ")
	}
	return fmt.Sprintf("%s %s %d: %s: %s", word, x.class, x.number, x.text, said)
}
