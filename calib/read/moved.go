package read

import (
	"fmt"
	"math"
	"slices"

	"leadmark/calib/read/cache"
	"leadmark/calib/read/moves"
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
	w := Warning{Code: codeMoved}
	text := fmt.Sprintf("from %s on the picture lies %s of where most frames have it: the camera was moved",
		g.Shots[frames[0]].Name, apartText(d.Move))
	for _, i := range frames {
		w.Frames = append(w.Frames, g.Shots[i].Name)
		if g.list[i].Status != ruler.StatusRead {
			continue
		}
		if why != "" {
			g.list[i].Status = ruler.StatusRefused
			g.list[i].Reason = ruler.Reason{Code: w.Code, Text: text + "; " + why}
			continue
		}
		g.list[i] = g.list[i].Moved(d.Move)
		g.movedU[i] = moves.U(d) / g.list[i].PxPerM
	}
	if why != "" {
		w.Text = text + "; " + why + ". Fix the camera, and shoot these again, or calibrate them as a run of their own"
	} else {
		w.Text = text + fmt.Sprintf("; their readings are corrected by that, with a standard uncertainty of "+
			"%.1f px added. Fix the camera before shooting on", moves.U(d))
	}
	g.moved = append(g.moved, w)
}

// codeMoved is of reasons and warnings that a move of the camera gives.
const codeMoved = "camera-moved"

// uncorrectable says why a move cannot be taken off the readings; "" where it can.
func (g *Readings) uncorrectable(d ruler.Shift) string {
	switch scale := pxPerM(frontOf(g.run.Ruler, g.list).placed(g.list)); {
	case moves.Warped(d):
		return fmt.Sprintf("parts of the picture moved by up to %.1f px more or less than the rest, so the "+
			"camera was turned or zoomed, and the readings are left out", d.Warp)
	case !d.Whole:
		return "the scene shows too little on both sides of the ruler to tell a shift from a turn, so the " +
			"readings are left out"
	case scale > 0 && moves.U(d) > worstCorrection*scale:
		return fmt.Sprintf("that is known only to %.1f px, too little to correct the readings by, so they "+
			"are left out", moves.U(d))
	}
	return ""
}

func apartText(d ruler.Point) string {
	return fmt.Sprintf("%.1f px %s and %.1f px %s", math.Abs(d.X), word(d.X < 0, "left", "right"), math.Abs(d.Y),
		word(d.Y < 0, "up", "down"))
}

func word(first bool, a, b string) string {
	if first {
		return a
	}
	return b
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
	w := Warning{Code: codeMoved, Frames: []string{g.Shots[i].Name}}
	w.Text = fmt.Sprintf("the picture of the still lies %s of where most frames have it: the camera was moved",
		apartText(d.Move))
	still := *g.still
	g.still = &still
	if why := g.uncorrectable(d); why != "" {
		still.Status, still.Reason = ruler.StatusRefused, ruler.Reason{Code: w.Code, Text: w.Text + "; " + why}
		return
	}
	still = still.Moved(d.Move)
	g.stillU = moves.U(d) / still.PxPerM
	w.Text += fmt.Sprintf("; the trip place is corrected by that, with a standard uncertainty of %.1f px added",
		moves.U(d))
	g.moved = append(g.moved, w)
}
