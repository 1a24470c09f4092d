package calib

import (
	"fmt"

	"leadmark/ruler"
)

// leastMove is the least shift of the still scene, px, that counts as a move of the camera: less
// than that a tripod's own play makes.
const leastMove = 2.5

// moveSure is how many standard uncertainties a shift must be to count.
const moveSure = 6

const (
	newPlace     = -1
	unknownPlace = -2
)

// place is where the camera stood for some frames: how far their still scene lies from the first
// frame's.
type place struct {
	move   ruler.Point
	frames []int
}

// refuseMoved finds frames taken after (or before) the camera was moved, refuses the readings of
// all but the place where most frames were taken, and says so: advances before and after a move
// are never mixed.
func (s *reader) refuseMoved() {
	if s.o.Shift == nil {
		return
	}
	places := s.places()
	if len(places) < 2 || !inTurn(places) {
		return
	}
	main := 0
	for k, p := range places {
		if len(p.frames) > len(places[main].frames) {
			main = k
		}
	}
	for k, p := range places {
		if k == main {
			continue
		}
		d := p.move.Sub(places[main].move)
		text := fmt.Sprintf("the picture lies %.0f px right and %.0f px down of where most frames have it: the camera was moved", d.X, d.Y)
		w := Warning{Code: "camera-moved", Text: text +
			"; their readings are left out. Fix the camera, and shoot these again, or calibrate them as a run of their own"}
		for _, i := range s.spanOf(places, k) {
			w.Frames = append(w.Frames, s.frames[i].Name)
			if s.readings[i].Status == ruler.StatusRead {
				s.readings[i].Status = ruler.StatusRefused
				s.readings[i].Reason = ruler.Reason{Code: "camera-moved", Text: text}
			}
		}
		s.doubts = append(s.doubts, w)
	}
}

// spanOf lists the shots from a place's first frame up to the next place's first.
func (s *reader) spanOf(places []place, k int) []int {
	var out []int
	for _, i := range s.todo {
		if i >= places[k].frames[0] && (k+1 == len(places) || i < places[k+1].frames[0]) {
			out = append(out, i)
		}
	}
	return out
}

// places groups the frames by where their still scene lies. Frames whose scene shows too little
// to tell stay with the frame before.
func (s *reader) places() []place {
	var out []place
	last := -1
	for _, i := range s.todo {
		if s.readings[i].Status != ruler.StatusRead {
			continue // a frame in which the flash failed shows another scene
		}
		at := s.placeOf(out, i)
		switch {
		case at >= 0:
			last = at
		case at == unknownPlace && last < 0:
			continue
		case at == newPlace:
			out = append(out, place{frames: nil, move: s.moveOf(out, i)})
			last = len(out) - 1
		}
		out[last].frames = append(out[last].frames, i)
	}
	return out
}

// inTurn says whether the places follow each other as knocks to a camera make them: each held
// for two frames at least, and none come back to. What looks like a move here and there is a
// scene too plain to tell.
func inTurn(places []place) bool {
	for k, p := range places {
		if len(p.frames) < 2 {
			return false
		}
		if k > 0 && p.frames[0] < places[k-1].frames[len(places[k-1].frames)-1] {
			return false
		}
	}
	return true
}

// placeOf finds the place whose scene a frame shows.
func (s *reader) placeOf(places []place, i int) int {
	if len(places) == 0 {
		return newPlace
	}
	at := unknownPlace
	for k, p := range places {
		for _, j := range p.frames[:min(2, len(p.frames))] {
			move, u, ok := s.o.Shift(s.sightings[j].Backdrop, s.sightings[i].Backdrop)
			if !ok {
				continue
			}
			if move.Len() < max(leastMove, moveSure*u) {
				return k
			}
			at = newPlace
		}
	}
	return at
}

// moveOf is how far a frame's scene lies from the first place's.
func (s *reader) moveOf(places []place, i int) ruler.Point {
	for _, p := range places {
		for _, j := range p.frames {
			if move, _, ok := s.o.Shift(s.sightings[j].Backdrop, s.sightings[i].Backdrop); ok {
				return p.move.Add(move)
			}
		}
	}
	return ruler.Point{}
}
