package crops

import (
	"math"

	"leadmark/vision/synth/plane"
)

// Graduation is one line as it truly lies.
type Graduation struct {
	MM   float64     // what it reads
	At   plane.Point // px, the middle of its ink, at half the shortest graduations' length
	Seen bool        // it counts by the rule
}

// ScaleTruth is what is true of one row.
type ScaleTruth struct {
	Name        string
	StepMM      float64
	Graduations []Graduation // those in the picture
	PxPerMM     float64      // in the middle of what is seen
	FrontMM     float64      // what it says at the front end
	Readable    bool
	Why         string // it is not readable
	// Reading is what the scale says at a place of the picture, mm, carried there across the ruler.
	Reading func(at plane.Point) float64
}

// Truth is what is true of one picture.
type Truth struct {
	Scales      []ScaleTruth // the first is the one that is stated
	FrontInView bool
	FrontAt     plane.Point // px, at the ruler's middle
	FrontEdge   [2]plane.Point
	FrontRead   bool   // it is readable
	FrontWhy    string // it is not
	Toward      plane.Point
	RearInView  bool
	RearEdge    [2]plane.Point
	PxPerMM     float64 // along, in the middle of the ruler in view
	PitchPX     float64
	BlurShare   float64 // of the pitch
	// AlongMarks says that readings are known along the graduations alone, not across the picture.
	AlongMarks bool
	// Outside is how far a place of the picture lies beyond the ruler's ends, mm along it; negative
	// between them.
	Outside func(at plane.Point) float64
}

// Truth is what the picture will show.
func (s *Scene) Truth() Truth {
	m := s.Seen()
	var t Truth
	t.Toward = map[string]plane.Point{"right": {X: 1}, "left": {X: -1}, "up": {Y: -1}, "down": {Y: 1}}[s.Travel]
	r := &s.Ruler
	end := func(p float64) ([2]plane.Point, bool) {
		e := [2]plane.Point{m.At(plane.Point{X: p, Y: 0.1 * r.Width}), m.At(plane.Point{X: p, Y: 0.9 * r.Width})}
		return e, s.inside(m.At(plane.Point{X: p, Y: r.Width / 2}), 0)
	}
	t.FrontEdge, t.FrontInView = end(0)
	t.RearEdge, t.RearInView = end(r.Length)
	t.FrontAt = m.At(plane.Point{X: 0, Y: r.Width / 2})
	t.Outside = func(at plane.Point) float64 {
		p := m.Back(at).X
		return max(-p, p-r.Length)
	}
	for i := range r.Scales {
		t.Scales = append(t.Scales, s.scaleTruth(&r.Scales[i], m))
	}
	first := &t.Scales[0]
	t.PxPerMM, t.PitchPX = first.PxPerMM, first.PxPerMM*first.StepMM
	s.judge(&t)
	return t
}

// inside says whether a place lies in the picture by so many px.
func (s *Scene) inside(p plane.Point, by float64) bool {
	return p.X >= by && p.Y >= by && p.X <= float64(s.W-1)-by && p.Y <= float64(s.H-1)-by
}

func (s *Scene) scaleTruth(sc *Scale, m plane.View) ScaleTruth {
	r := &s.Ruler
	shift := r.shift()
	t := ScaleTruth{Name: sc.Name, StepMM: sc.Step, FrontMM: r.Front(sc),
		Reading: func(at plane.Point) float64 {
			b := m.Back(at)
			p, _ := r.Section(b.X, b.Y)
			return sc.Reading(p - shift)
		}}
	for k := sc.From; k <= sc.To; k++ {
		p, q := r.Plane(r.at(sc, k), s.middle(sc))
		at := m.At(plane.Point{X: p, Y: q})
		if s.inside(at, 0) {
			t.Graduations = append(t.Graduations, Graduation{MM: sc.Sense * float64(k) * sc.Step, At: at})
		}
	}
	if n := len(t.Graduations); n > 0 {
		along, _ := m.Slope(plane.Point{X: m.Back(t.Graduations[n/2].At).X, Y: s.middle(sc)})
		t.PxPerMM = along.Len()
	}
	return t
}

// middle is q of the middle of a scale's shortest graduations.
func (s *Scene) middle(sc *Scale) float64 {
	e := (sc.Start + sc.Orders[0].Length) / 2
	if sc.Far {
		return s.Ruler.Width - e
	}
	return math.Max(e, 0)
}
