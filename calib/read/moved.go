package read

import (
	"slices"

	"leadmark/calib/read/cache"
	"leadmark/calib/read/moves"
	"leadmark/fit/note"
	"leadmark/vision/ruler"
)

// worstCorrection is the largest standard uncertainty, m, with which a reading is still corrected.
const worstCorrection = 0.5e-3

// correctMoved finds frames taken where the camera stood elsewhere than for most, says from which
// frame and by how much, and corrects their readings by the measured move; where that is not well
// enough measured, or the camera was turned or zoomed, it refuses them.
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
	g.list, g.movedU = slices.Clone(g.list), map[int]float64{}
	for _, place := range moved {
		g.correctPlace(place)
	}
	g.correctStill(run, main)
	return g
}

// correctPlace corrects or refuses the frames of a place.
func (g *Readings) correctPlace(p moves.Moved) {
	frames, d := p.Frames, p.Shift
	why := g.uncorrectable(d)
	from := note.Of(codeMoved, "from", g.Shots[frames[0]].Name, d.Move.X, d.Move.Y)
	for _, i := range frames {
		if g.list[i].Status != ruler.StatusRead {
			continue
		}
		if !why.None() {
			g.list[i].Status, g.list[i].Reason = ruler.StatusRefused, note.Of(codeMoved, "refused", from, why)
			continue
		}
		g.list[i] = g.list[i].Moved(d.Move)
		g.movedU[i] = moves.U(d) / g.list[i].PxPerM
	}
	told := note.Of(codeMoved, "corrected", from, moves.U(d))
	if !why.None() {
		told = note.Of(codeMoved, "left", from, why)
	}
	g.moved = append(g.moved, Warning{told, namesOf(g.Shots, frames)})
}

// codeMoved is of reasons and warnings that a move of the camera gives.
const codeMoved = "camera-moved"

// uncorrectable says why a move cannot be taken off the readings; nothing where it can.
func (g *Readings) uncorrectable(d ruler.Shift) note.Note {
	switch scale := pxPerM(sharedFront(g.run.Ruler, g.list).placed(g.list)); {
	case moves.Warped(d):
		return note.Of(codeMoved, "turned", d.Warp)
	case !d.Whole:
		return note.Of(codeMoved, "plain")
	case scale > 0 && moves.U(d) > worstCorrection*scale:
		return note.Of(codeMoved, "unsure", moves.U(d))
	}
	return note.Note{}
}

// correctStill moves the frame that shows the trip place to where most frames have the scene.
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
	if why := g.uncorrectable(d); !why.None() {
		still.Status, still.Reason = ruler.StatusRefused, note.Of(codeMoved, "refused", where, why)
		return
	}
	still = still.Moved(d.Move)
	g.stillU = moves.U(d) / still.PxPerM
	g.moved = append(g.moved, Warning{note.Of(codeMoved, "still-corrected", where, moves.U(d)),
		[]string{g.Shots[i].Name}})
}
