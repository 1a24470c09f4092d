package moves

import "leadmark/vision/ruler"

// Run is the frames of a run in their order, and how they are compared.
type Run struct {
	Frames []int                                              // those that were to be read
	Read   func(i int) bool                                   // whether one was
	Scene  func(i int) ruler.Backdrop                         // what lies still in it
	Shift  func(a, b ruler.Backdrop) (s ruler.Shift, ok bool) // how far the scene of b lies from that of a
}

// Moved is where the camera stood elsewhere than for most frames.
type Moved struct {
	Frames []int       // taken there
	Shift  ruler.Shift // of the scene, from where most frames have it
	Known  bool        // the two could be compared
}

// Find finds the frames taken where the camera stood elsewhere than for most (the later ones on a
// tie). Main is a frame of those that most are; -1 where nothing is found that can be believed.
func Find(r Run) (moved []Moved, main int) {
	places, at := placesOf(r)
	if len(places) < 2 || !believed(r, places) {
		return nil, -1
	}
	most := 0
	for k, p := range places {
		if len(p.frames) > len(places[most].frames) {
			most = k
		}
	}
	for k, p := range places {
		if k != most {
			d, ok := r.Shift(places[most].scenes[0], p.scenes[0])
			moved = append(moved, Moved{spanOf(r.Frames, at, k), d, ok})
		}
	}
	return moved, places[most].frames[0]
}

const (
	newPlace     = -1
	unknownPlace = -2
)

// place is where the camera stood for some frames.
type place struct {
	frames []int
	scenes []ruler.Backdrop // of the first two of them
}

// placesOf groups the frames by where their still scene lies. Frames whose scene shows too little
// to tell stay with the frame before; at says where each is.
func placesOf(r Run) (out []place, at map[int]int) {
	at = map[int]int{}
	last := -1
	for _, i := range r.Frames {
		if !r.Read(i) {
			continue // a frame in which the flash failed shows another scene
		}
		backdrop := r.Scene(i)
		k := placeOf(r, out, backdrop)
		switch {
		case k >= 0:
			last = k
		case k == unknownPlace && last < 0:
			continue
		case k == newPlace:
			out = append(out, place{})
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

// spanOf lists the frames of a place, with those between them that show too little to tell or were
// not read.
func spanOf(frames []int, at map[int]int, k int) []int {
	var out []int
	last := unknownPlace
	for _, i := range frames {
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
func believed(r Run, places []place) bool {
	for k, p := range places[1:] {
		before := places[k].frames
		if back := p.frames[0] < before[len(before)-1]; len(p.frames) >= 2 && !back {
			continue
		}
		d, ok := r.Shift(places[0].scenes[0], p.scenes[0])
		if far, sure := surest(d); !ok || !d.Whole || Warped(d) || sure < surerMove || far < 2*leastMove {
			return false
		}
	}
	return true
}

// placeOf finds the place that a frame shows the scene of.
func placeOf(r Run, places []place, scene ruler.Backdrop) int {
	if len(places) == 0 {
		return newPlace
	}
	at := unknownPlace
	for k, p := range places {
		for _, of := range p.scenes {
			d, ok := r.Shift(of, scene)
			if !ok {
				continue
			}
			if Steady(d) {
				return k
			}
			at = newPlace
		}
	}
	return at
}
