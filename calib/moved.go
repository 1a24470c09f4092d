package calib

import (
	"fmt"
	"math"

	"leadmark/vision/ruler"
)

const (
	// leastMove is the least shift of the still scene, px, that counts as a move of the camera: less
	// than that a tripod's own play makes.
	leastMove = 2.5
	// moveSure is how many standard uncertainties a shift must be to count, and surerMove where one
	// frame alone shows it.
	moveSure  = 6
	surerMove = 15
	// leastWarp, px, and warpSure standard uncertainties are what parts of the picture may move otherwise
	// than the whole before the camera counts as turned or zoomed.
	leastWarp = 0.8
	warpSure  = 4
	// parallax is the standard uncertainty of a measured move as a share of it: the scene by which it is
	// measured stands a tenth or so farther off than the ruler, and moves less when the camera is
	// carried aside, as much when it is turned. Common practice, no source.
	parallax = 0.06
	// worstCorrection is the largest standard uncertainty, m, with which a reading is still corrected.
	worstCorrection = 0.5e-3
)

const (
	newPlace     = -1
	unknownPlace = -2
)

// place is where the camera stood for some frames: how far their still scene lies from the first
// frame's.
type place struct {
	shift  ruler.Shift
	frames []int
	scenes []ruler.Backdrop // of the first two of them
}

// correctMoved finds frames taken where the camera stood elsewhere than for most (the later ones on a
// tie), says from which frame and by how much, and corrects their readings by the measured move; where
// that is not well enough measured, or the camera was turned or zoomed, it refuses them.
func (s *reader) correctMoved() {
	if s.o.Shift == nil {
		return
	}
	places, at := s.places()
	if len(places) < 2 || !s.believed(places) {
		return
	}
	main := 0
	for k, p := range places {
		if len(p.frames) > len(places[main].frames) {
			main = k
		}
	}
	for k := range places {
		if k != main {
			s.settlePlace(places[k], places[main], s.spanOf(at, k))
		}
	}
	s.settleStill(places[main])
}

// settlePlace corrects or refuses the frames of a place.
func (s *reader) settlePlace(p, main place, frames []int) {
	d := apart(main.shift, p.shift)
	why := s.uncorrectable(d)
	w := Warning{Code: "camera-moved"}
	text := fmt.Sprintf("from %s on the picture lies %s of where most frames have it: the camera was moved", s.frames[frames[0]].Name, apartText(d.Move))
	for _, i := range frames {
		w.Frames = append(w.Frames, s.frames[i].Name)
		if s.readings[i].Status != ruler.StatusRead {
			continue
		}
		if why != "" {
			s.readings[i].Status = ruler.StatusRefused
			s.readings[i].Reason = ruler.Reason{Code: w.Code, Text: text + "; " + why}
			continue
		}
		s.readings[i] = s.readings[i].Moved(d.Move)
		s.movedU[i] = moveU(d) / s.readings[i].PxPerM
	}
	if why != "" {
		w.Text = text + "; " + why + ". Fix the camera, and shoot these again, or calibrate them as a run of their own"
	} else {
		w.Text = text + fmt.Sprintf("; their readings are corrected by that, with a standard uncertainty of %.1f px added. Fix the camera before shooting on", moveU(d))
	}
	s.doubts = append(s.doubts, w)
}

// between is the shift from one place to another.
func apart(a, b ruler.Shift) ruler.Shift {
	return ruler.Shift{Move: b.Move.Sub(a.Move), U: math.Hypot(a.U, b.U), Warp: max(a.Warp, b.Warp), WarpU: math.Hypot(a.WarpU, b.WarpU),
		Whole: (a.Whole || a.Move == ruler.Point{}) && (b.Whole || b.Move == ruler.Point{})}
}

// moveU is a measured move's standard uncertainty as it bears on the ruler, px: with half of what a turn
// too small to be seen may do.
func moveU(d ruler.Shift) float64 {
	return math.Hypot(math.Hypot(d.U, d.WarpU/2), parallax*d.Move.Len())
}

// uncorrectable says why a move cannot be taken off the readings; "" where it can.
func (s *reader) uncorrectable(d ruler.Shift) string {
	switch scale := s.pxPerM(); {
	case warped(d):
		return fmt.Sprintf("parts of the picture moved by up to %.1f px more or less than the rest, so the camera was turned or zoomed, and the readings are left out", d.Warp)
	case !d.Whole:
		return "the scene shows too little on both sides of the ruler to tell a shift from a turn, so the readings are left out"
	case scale > 0 && moveU(d) > worstCorrection*scale:
		return fmt.Sprintf("that is known only to %.1f px, too little to correct the readings by, so they are left out", moveU(d))
	}
	return ""
}

// warped says whether parts of the picture moved otherwise than the whole.
func warped(d ruler.Shift) bool { return d.Warp > max(leastWarp, warpSure*d.WarpU) }

func apartText(d ruler.Point) string {
	return fmt.Sprintf("%.1f px %s and %.1f px %s", abs(d.X), word(d.X < 0, "left", "right"), abs(d.Y), word(d.Y < 0, "up", "down"))
}

func word(first bool, a, b string) string {
	if first {
		return a
	}
	return b
}

// settleStill moves the frame that shows the trip place to where most frames have the scene.
func (s *reader) settleStill(main place) {
	for i, f := range s.frames {
		if f.Reason.Code != CodeStill || s.still == nil || s.still.Status != ruler.StatusRead {
			continue
		}
		d, ok := s.o.Shift(s.sights.of(main.frames[0]).Backdrop, s.sights.of(i).Backdrop)
		if !ok || d.Move.Len() < max(leastMove, moveSure*d.U) {
			return
		}
		w := Warning{Code: "camera-moved", Frames: []string{f.Name}}
		w.Text = fmt.Sprintf("the picture of the still lies %s of where most frames have it: the camera was moved", apartText(d.Move))
		if why := s.uncorrectable(d); why != "" {
			s.still.Status, s.still.Reason = ruler.StatusRefused, ruler.Reason{Code: w.Code, Text: w.Text + "; " + why}
			return
		}
		moved := s.still.Moved(d.Move)
		s.still, s.stillU = &moved, moveU(d)/moved.PxPerM
		w.Text += fmt.Sprintf("; the trip place is corrected by that, with a standard uncertainty of %.1f px added", moveU(d))
		s.doubts = append(s.doubts, w)
		return
	}
}

// spanOf lists the shots of a place, with those between them that show too little to tell or were not read.
func (s *reader) spanOf(at map[int]int, k int) []int {
	var out []int
	last := unknownPlace
	for _, i := range s.todo {
		if p, known := at[i]; known {
			last = p
		}
		if last == k {
			out = append(out, i)
		}
	}
	return out
}

// places groups the frames by where their still scene lies. Frames whose scene shows too little
// to tell stay with the frame before; at says where each is.
func (s *reader) places() (out []place, at map[int]int) {
	at = map[int]int{}
	last := -1
	for _, i := range s.todo {
		if s.readings[i].Status != ruler.StatusRead {
			continue // a frame in which the flash failed shows another scene
		}
		scene := s.sights.of(i).Backdrop
		k, shift := s.placeOf(out, scene)
		switch {
		case k >= 0:
			last = k
		case k == unknownPlace && last < 0:
			continue
		case k == newPlace:
			out = append(out, place{shift: shift})
			last = len(out) - 1
		}
		p := &out[last]
		if p.frames = append(p.frames, i); len(p.scenes) < 2 {
			p.scenes = append(p.scenes, scene)
		}
		at[i] = last
	}
	return out, at
}

// believed says whether the places are what knocks to a camera make: each held for two frames at
// least, and none come back to; or else, each measured far beyond doubt. What looks like a move here
// and there is a scene too plain to tell.
func (s *reader) believed(places []place) bool {
	for k, p := range places {
		d := apart(places[0].shift, p.shift)
		back := k > 0 && p.frames[0] < places[k-1].frames[len(places[k-1].frames)-1]
		if (len(p.frames) < 2 || back) && k > 0 && !(d.Whole && !warped(d) && d.Move.Len() > max(2*leastMove, surerMove*d.U)) {
			return false
		}
	}
	return true
}

// placeOf finds the place that a frame shows the scene of; for a new one also how far it lies from the first.
func (s *reader) placeOf(places []place, scene ruler.Backdrop) (int, ruler.Shift) {
	if len(places) == 0 {
		return newPlace, ruler.Shift{}
	}
	at, found := unknownPlace, ruler.Shift{}
	for k, p := range places {
		for _, of := range p.scenes {
			d, ok := s.o.Shift(of, scene)
			if !ok {
				continue
			}
			if d.Move.Len() < max(leastMove, moveSure*d.U) {
				return k, d
			}
			if at == unknownPlace {
				at = newPlace
				found = apart(ruler.Shift{Move: p.shift.Move.Mul(-1), U: p.shift.U, Warp: p.shift.Warp, WarpU: p.shift.WarpU, Whole: p.shift.Whole}, d)
			}
		}
	}
	return at, found
}
