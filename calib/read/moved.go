package read

import (
	"math"
	"slices"

	"leadmark/calib/read/cache"
	"leadmark/calib/read/moves"
	"leadmark/fit/note"
	"leadmark/vision/ruler"
)

// correctMoved finds frames taken where the camera stood elsewhere than for most, says from which
// frame and by how much, and keeps how their scene lies, so that the trip line and the track are
// carried to where they show them; where that is not well enough known, or is no turn of a camera,
// it refuses them.
func correctMoved(g Readings, shift ShiftFunc, seen *cache.Sightings) Readings {
	if shift == nil {
		return g
	}
	run := moves.Run{Frames: toRead(g.Shots), Shift: shift,
		Read:  func(i int) bool { return g.list[i].Status == ruler.StatusRead },
		Scene: func(i int) ruler.Backdrop { return seen.Of(i).Backdrop }}
	moved, main := moves.Find(run)
	if main < 0 {
		return g
	}
	g.list, g.carried = slices.Clone(g.list), map[int]ruler.Shift{}
	for _, place := range moved {
		g.correctPlace(place)
	}
	g.correctStill(run, main)
	return g
}

// correctPlace carries the frames of a place, or refuses them.
func (g *Readings) correctPlace(p moves.Moved) {
	frames, d := p.Frames, p.Shift
	from := note.Of(codeMoved, "from", g.Shots[frames[0]].Name, d.Move.X, d.Move.Y)
	why, worst := uncorrectable(p, g.list), 0.0
	for _, i := range frames {
		if g.list[i].Status != ruler.StatusRead {
			continue
		}
		if !why.None() {
			g.list[i].Status, g.list[i].Reason = ruler.StatusRefused, note.Of(codeMoved, "refused", from, why)
			continue
		}
		g.carried[i] = d
		worst = max(worst, movedPX(d, g.list[i]))
	}
	told := note.Of(codeMoved, "corrected", from, worst)
	if !why.None() {
		told = note.Of(codeMoved, "left", from, why)
	}
	g.moved = append(g.moved, Warning{told, namesOf(g.Shots, frames)})
}

// codeMoved is of reasons and warnings that a move of the camera gives.
const codeMoved = "camera-moved"

// movedPX is the standard uncertainty, px, of where the trip line lies in a frame taken after a move,
// about where its ruler is.
func movedPX(d ruler.Shift, r ruler.Reading) float64 {
	ends := r.Graduations.Ends()
	at := ends[0].At.Add(ends[1].At).Mul(0.5)
	return moves.U(d, at, r.Scale.Dir, r.PxPerM)
}

// uncorrectable says why a move cannot be taken off those of the readings that a place lists; nothing
// where it can.
func uncorrectable(p moves.Moved, list []ruler.Reading) note.Note {
	d := p.Shift
	switch {
	case !p.Known || !d.Whole:
		return note.Of(codeMoved, "plain")
	case moves.Warped(d):
		return note.Of(codeMoved, "otherwise", d.Warp)
	case moves.Zoomed(d):
		return note.Of(codeMoved, "otherwise", math.Abs(d.Grown))
	}
	for _, i := range p.Frames {
		r := list[i]
		if r.Status != ruler.StatusRead {
			continue
		}
		if px := movedPX(d, r); px > worstCorrection*r.PxPerM {
			return note.Of(codeMoved, "unsure", px)
		}
	}
	return note.Note{}
}

// lineIn is where a line of the picture, as most frames have it, lies in a frame, and the standard
// uncertainty of that where the frame's ruler crosses it, m.
func (g Readings) lineIn(i int, line ruler.Line) (in ruler.Line, u float64) {
	d, moved := g.carried[i]
	if !moved {
		return line, 0
	}
	in = d.LineTo(line)
	r := g.list[i]
	at, ok := r.Scale.Long.Meet(in)
	if !ok {
		at = in.A
	}
	return in, moves.U(d, at, r.Scale.Dir, r.PxPerM) / r.PxPerM
}

// correctStill carries the front end in the frame that shows the trip place to where most frames have
// the scene.
func (g *Readings) correctStill(run moves.Run, main int) {
	i := slices.IndexFunc(g.Shots, func(s Shot) bool { return s.Reason.Code == CodeStill })
	if i < 0 || g.still == nil || g.still.Status != ruler.StatusRead {
		return
	}
	d, ok := run.Shift(run.Scene(main), run.Scene(i))
	if !ok || moves.Steady(d) {
		return
	}
	where := note.Of(codeMoved, "still", d.Move.X, d.Move.Y)
	still := *g.still
	g.still = &still
	why := uncorrectable(moves.Moved{Frames: []int{0}, Shift: d, Known: ok}, []ruler.Reading{still})
	if !why.None() {
		still.Status, still.Reason = ruler.StatusRefused, note.Of(codeMoved, "refused", where, why)
		return
	}
	px := movedPX(d, still)
	if still.Front != nil {
		front := *still.Front
		front.At, front.Line = d.Back(front.At), d.LineBack(front.Line)
		still.Front = &front
	}
	g.stillU = px / still.PxPerM
	g.moved = append(g.moved, Warning{note.Of(codeMoved, "still-corrected", where, px),
		[]string{g.Shots[i].Name}})
}
