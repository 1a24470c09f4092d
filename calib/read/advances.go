package read

import (
	"math"
	"slices"

	"leadmark/calib/read/tripline"
	"leadmark/fit/note"
	"leadmark/vision/ruler"
)

// Advances are the shots of the run with what was read in them, each with its advance past a line.
func (g Readings) Advances(l tripline.Line) []Shot {
	shots := slices.Clone(g.Shots)
	for _, i := range toRead(g.Shots) {
		f, r := &shots[i], g.list[i]
		f.Status, f.Reason = r.Status, r.Reason
		if r.Status != ruler.StatusRead {
			continue
		}
		f.Reading = r
		if why := g.advance(f, i, l); why.Code != "" {
			f.Status, f.Reason = ruler.StatusRefused, why
		}
	}
	return shots
}

// advance sets a frame's advance and its standard uncertainty, or says why it has none.
func (g Readings) advance(f *Shot, i int, l tripline.Line) note.Note {
	r := g.list[i]
	line, uMoved := g.lineIn(i, l.Line)
	place, ok := g.front.place(r)
	front, uFront, known := g.front.reading(r)
	if g.run.Corrections.Of(f.Name).Front != nil && r.Front != nil {
		front, uFront, known = r.Front.Reading, r.Front.U/r.PxPerM, true
		if g.run.Ruler.Band {
			front -= g.run.Ruler.BandAt
		}
	}
	switch {
	case !ok && r.Coded:
		return note.Of("front-not-visible", "run")
	case !ok || !known:
		return note.Of("front-not-visible", "frame")
	}
	at, u, _, ok := r.Scale.At(line)
	if !ok {
		return note.New("off-track")
	}
	if f.Advance = at - front; r.Falling {
		f.Advance = front - at
	}
	f.U = math.Hypot(u, math.Hypot(uFront, uMoved))
	f.FrontPX = place
	if d, moved := g.carried[i]; moved {
		f.Carried = &d
	}
	f.PxPerM = r.Scale.PxPerM(at)
	if l.Given && f.Advance < -beforeTrip*math.Hypot(f.U, l.U) {
		return note.New("before-trip", f.Advance)
	}
	return note.Note{}
}
