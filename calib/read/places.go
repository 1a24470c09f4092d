package read

import "leadmark/vision/ruler"

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

// placesOf groups the frames by where their still scene lies. Frames whose scene shows too little
// to tell stay with the frame before; at says where each is.
func placesOf(g Readings, shift ShiftFunc, scene func(int) ruler.Backdrop) (out []place, at map[int]int) {
	at = map[int]int{}
	last := -1
	for _, i := range toRead(g.Shots) {
		if g.list[i].Status != ruler.StatusRead {
			continue // a frame in which the flash failed shows another scene
		}
		backdrop := scene(i)
		k, d := placeOf(out, backdrop, shift)
		switch {
		case k >= 0:
			last = k
		case k == unknownPlace && last < 0:
			continue
		case k == newPlace:
			out = append(out, place{shift: d})
			last = len(out) - 1
		}
		p := &out[last]
		if p.frames = append(p.frames, i); len(p.scenes) < 2 {
			p.scenes = append(p.scenes, backdrop)
		}
		at[i] = last
	}
	return out, at
}

// spanOf lists the shots of a place, with those between them that show too little to tell or were
// not read.
func spanOf(shots []Shot, at map[int]int, k int) []int {
	var out []int
	last := unknownPlace
	for _, i := range toRead(shots) {
		if p, known := at[i]; known {
			last = p
		}
		if last == k {
			out = append(out, i)
		}
	}
	return out
}

// believed says whether the places are what knocks to a camera make: each held for two frames at
// least, and none come back to; or else, each measured far beyond doubt. What looks like a move
// here and there is a scene too plain to tell.
func believed(places []place) bool {
	for k, p := range places {
		d := apart(places[0].shift, p.shift)
		back := k > 0 && p.frames[0] < places[k-1].frames[len(places[k-1].frames)-1]
		if (len(p.frames) < 2 || back) && k > 0 && !(d.Whole && !warped(d) &&
			d.Move.Len() > max(2*leastMove, surerMove*d.U)) {
			return false
		}
	}
	return true
}

// placeOf finds the place that a frame shows the scene of; for a new one also how far it lies from
// the first.
func placeOf(places []place, scene ruler.Backdrop, shift ShiftFunc) (int, ruler.Shift) {
	if len(places) == 0 {
		return newPlace, ruler.Shift{}
	}
	at, found := unknownPlace, ruler.Shift{}
	for k, p := range places {
		for _, of := range p.scenes {
			d, ok := shift(of, scene)
			if !ok {
				continue
			}
			if d.Move.Len() < max(leastMove, moveSure*d.U) {
				return k, d
			}
			if at == unknownPlace {
				at = newPlace
				found = apart(ruler.Shift{Move: p.shift.Move.Mul(-1), U: p.shift.U, Warp: p.shift.Warp,
					WarpU: p.shift.WarpU, Whole: p.shift.Whole}, d)
			}
		}
	}
	return at, found
}
