package ruler

// Shift is how far the scene of one picture lies from that of another.
type Shift struct {
	Move Point   // px
	U    float64 // px, standard uncertainty along Move
	// Warp is by how much parts of the picture moved otherwise than the whole, px, with its standard
	// uncertainty: a camera that was turned about its lens or zoomed moves them differently.
	Warp, WarpU float64
	Whole       bool // at least two parts of the picture, on opposite sides, could be compared
}

// Moved returns a reading as it would be had the camera not been moved, when the move made all of
// the picture lie d px further on.
func (r Reading) Moved(d Point) Reading {
	at := func(p Point) Point { return p.Sub(d) }
	line := func(l Line) Line { return Line{at(l.A), at(l.B)} }
	end := func(e *End) *End {
		if e == nil {
			return nil
		}
		out := *e
		out.At, out.Line = at(e.At), line(e.Line)
		return &out
	}
	r.Scale.Origin, r.Scale.Long = at(r.Scale.Origin), line(r.Scale.Long)
	if e := r.Scale.Edge; e != nil {
		l := line(*e)
		r.Scale.Edge = &l
	}
	r.Front = end(r.Front)
	if r.Twin != nil {
		t := *r.Twin
		t.Second = *end(&t.Second)
		r.Twin = &t
	}
	r.Graduations.Axis.Origin = at(r.Graduations.Axis.Origin)
	for i := range r.Outline {
		r.Outline[i] = at(r.Outline[i])
	}
	return r
}
