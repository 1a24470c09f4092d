package read

import (
	"fmt"
	"math"
	"slices"

	"leadmark/vision/ruler"
)

const (
	// leastMove is the least shift of the still scene, px, that counts as a move of the camera:
	// less than that a tripod's own play makes.
	leastMove = 2.5
	// moveSure is how many standard uncertainties a shift must be to count, and surerMove where one
	// frame alone shows it.
	moveSure  = 6
	surerMove = 15
	// leastWarp, px, and warpSure standard uncertainties are what parts of the picture may move
	// otherwise than the whole before the camera counts as turned or zoomed.
	leastWarp = 0.8
	warpSure  = 4
	// parallax is the standard uncertainty of a measured move as a share of it: the scene by which
	// it is measured stands a tenth or so farther off than the ruler, and moves less when the
	// camera is carried aside, as much when it is turned. Common practice, no source.
	parallax = 0.06
	// worstCorrection is the largest standard uncertainty, m, with which a reading is still
	// corrected.
	worstCorrection = 0.5e-3
)

// correctMoved finds frames taken where the camera stood elsewhere than for most (the later ones on
// a tie), says from which frame and by how much, and corrects their readings by the measured move;
// where that is not well enough measured, or the camera was turned or zoomed, it refuses them.
func correctMoved(g Readings, shift ShiftFunc, seen *sightings) Readings {
	if shift == nil {
		return g
	}
	scene := func(i int) ruler.Backdrop { return seen.of(i).Backdrop }
	places, at := placesOf(g, shift, scene)
	if len(places) < 2 || !believed(places) {
		return g
	}
	main := 0
	for k, p := range places {
		if len(p.frames) > len(places[main].frames) {
			main = k
		}
	}
	g.list, g.movedU = slices.Clone(g.list), map[int]float64{}
	for k := range places {
		if k != main {
			g.correctPlace(places[k], places[main], spanOf(g.Shots, at, k))
		}
	}
	g.correctStill(places[main], shift, scene)
	return g
}

// correctPlace corrects or refuses the frames of a place.
func (g *Readings) correctPlace(p, main place, frames []int) {
	d := apart(main.shift, p.shift)
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
		g.movedU[i] = moveU(d) / g.list[i].PxPerM
	}
	if why != "" {
		w.Text = text + "; " + why + ". Fix the camera, and shoot these again, or calibrate them as a run of their own"
	} else {
		w.Text = text + fmt.Sprintf("; their readings are corrected by that, with a standard uncertainty of "+
			"%.1f px added. Fix the camera before shooting on", moveU(d))
	}
	g.moved = append(g.moved, w)
}

// codeMoved is of reasons and warnings that a move of the camera gives.
const codeMoved = "camera-moved"

// apart is the shift from one place to another.
func apart(a, b ruler.Shift) ruler.Shift {
	return ruler.Shift{Move: b.Move.Sub(a.Move), U: math.Hypot(a.U, b.U), Warp: max(a.Warp, b.Warp),
		WarpU: math.Hypot(a.WarpU, b.WarpU),
		Whole: (a.Whole || a.Move == ruler.Point{}) && (b.Whole || b.Move == ruler.Point{})}
}

// moveU is a measured move's standard uncertainty as it bears on the ruler, px: with half of what a
// turn too small to be seen may do.
func moveU(d ruler.Shift) float64 {
	return math.Hypot(math.Hypot(d.U, d.WarpU/2), parallax*d.Move.Len())
}

// uncorrectable says why a move cannot be taken off the readings; "" where it can.
func (g *Readings) uncorrectable(d ruler.Shift) string {
	switch scale := pxPerM(frontOf(g.run.Ruler, g.list).placed(g.list)); {
	case warped(d):
		return fmt.Sprintf("parts of the picture moved by up to %.1f px more or less than the rest, so the "+
			"camera was turned or zoomed, and the readings are left out", d.Warp)
	case !d.Whole:
		return "the scene shows too little on both sides of the ruler to tell a shift from a turn, so the " +
			"readings are left out"
	case scale > 0 && moveU(d) > worstCorrection*scale:
		return fmt.Sprintf("that is known only to %.1f px, too little to correct the readings by, so they "+
			"are left out", moveU(d))
	}
	return ""
}

// warped says whether parts of the picture moved otherwise than the whole.
func warped(d ruler.Shift) bool { return d.Warp > max(leastWarp, warpSure*d.WarpU) }

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
func (g *Readings) correctStill(main place, shift ShiftFunc, scene func(int) ruler.Backdrop) {
	i := slices.IndexFunc(g.Shots, func(s Shot) bool { return s.Reason.Code == CodeStill })
	if i < 0 || g.still == nil || g.still.Status != ruler.StatusRead {
		return
	}
	d, ok := shift(scene(main.frames[0]), scene(i))
	if !ok || d.Move.Len() < max(leastMove, moveSure*d.U) {
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
	g.stillU = moveU(d) / still.PxPerM
	w.Text += fmt.Sprintf("; the trip place is corrected by that, with a standard uncertainty of %.1f px added",
		moveU(d))
	g.moved = append(g.moved, w)
}
