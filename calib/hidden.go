package calib

import (
	"math"
	"slices"

	"leadmark/fit/stat"
	"leadmark/vision/ruler"
)

// A coded ruler tells its readings without its front end: where something hides the end, or it
// has left the picture, its place follows from its reading.

// frontReading is the reading of the front end, m, where it is stated or another frame of a coded
// ruler shows it, and its standard uncertainty. Lines of an uncoded ruler count from the edge as
// each frame shows it.
func (s *reader) frontReading(r ruler.Reading) (at, u float64, ok bool) {
	switch {
	case s.run.Ruler.Front != nil:
		return *s.run.Ruler.Front, 0, true
	case s.run.Ruler.Band:
		return 0, 0, true
	case r.Coded:
		return s.codedFront()
	case r.Front == nil:
		return 0, 0, false
	}
	return r.Front.Reading, r.Front.U / r.PxPerM, true
}

// codedFront is the median of what the frames of a coded ruler say of its front end, which is one
// and the same, with the standard error of a median.
func (s *reader) codedFront() (at, u float64, ok bool) {
	var seen, off []float64
	for _, i := range s.todo {
		if r := s.readings[i]; r.Status == ruler.StatusRead && r.Coded && r.Front != nil {
			seen = append(seen, r.Front.Reading)
		}
	}
	at = stat.Median(slices.Clone(seen))
	for _, v := range seen {
		off = append(off, abs(v-at))
	}
	// FromMAD makes the median deviation a standard deviation, 1.2533 (sqrt(pi/2)) is that of a
	// median over that of a mean: normal errors.
	return at, 1.2533 * stat.FromMAD * stat.Median(slices.Clone(off)) / math.Sqrt(float64(max(1, len(seen)))), len(seen) > 0
}

// frontPlace is where the front end meets the ruler's long axis in the picture: as found, or where
// a coded ruler says that it must be.
func (s *reader) frontPlace(r ruler.Reading) (ruler.Point, bool) {
	if r.Front != nil {
		return r.Front.At, true
	}
	at, _, ok := s.frontReading(r)
	if !r.Coded || !ok {
		return ruler.Point{}, false
	}
	p := r.Scale.Place(at)
	across := ruler.Line{A: p, B: p.Add(r.Scale.MarkDir(r.Scale.T(at)))}
	if q, meets := r.Scale.Long.Meet(across); meets {
		p = q
	}
	return p, true
}
