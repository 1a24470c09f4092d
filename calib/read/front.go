package read

import (
	"math"
	"slices"

	"leadmark/fit/stat"

	"leadmark/calib/runfile"
	"leadmark/vision/ruler"
)

// A coded ruler tells its readings without its front end: where something hides the end, or it
// has left the picture, its place follows from its reading.

// front is where the front end lies on the ruler's own scale, as far as it holds for every frame.
type front struct {
	spec  runfile.RulerSpec
	at, u float64 // m, the reading of a coded ruler's front end
	known bool    // that one is
}

// sharedFront takes the median of what the frames of a coded ruler say of its front end, which is one
// and the same, with the standard error of a median.
func sharedFront(spec runfile.RulerSpec, readings []ruler.Reading) front {
	var seen, off []float64
	for _, r := range readings {
		if r.Status == ruler.StatusRead && r.Coded && r.Front != nil {
			seen = append(seen, r.Front.Reading)
		}
	}
	at := stat.Median(slices.Clone(seen))
	for _, v := range seen {
		off = append(off, math.Abs(v-at))
	}
	// 1.4826 makes the median deviation a standard deviation, 1.2533 (sqrt(pi/2)) is that of a
	// median over that of a mean: normal errors.
	u := 1.2533 * stat.FromMAD * stat.Median(slices.Clone(off)) / math.Sqrt(float64(max(1, len(seen))))
	return front{spec, at, u, len(seen) > 0}
}

// reading is the reading of the front end, m, where it is stated or another frame of a coded ruler
// shows it, and its standard uncertainty. Lines of an uncoded ruler count from the edge as each
// frame shows it.
func (f front) reading(r ruler.Reading) (at, u float64, ok bool) {
	switch {
	case f.spec.Front != nil:
		return *f.spec.Front, 0, true
	case f.spec.Band:
		return 0, 0, true
	case r.Coded:
		return f.at, f.u, f.known
	case r.Front == nil:
		return 0, 0, false
	}
	return r.Front.Reading, r.Front.U / r.PxPerM, true
}

// place is where the front end meets the ruler's long axis in the picture: as found, or where a
// coded ruler says that it must be.
func (f front) place(r ruler.Reading) (ruler.Point, bool) {
	if r.Front != nil {
		return r.Front.At, true
	}
	at, _, ok := f.reading(r)
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

// pxPerM is the usual scale of some readings.
func pxPerM(readings []ruler.Reading) float64 {
	var v []float64
	for _, r := range readings {
		v = append(v, r.PxPerM)
	}
	return stat.Median(slices.Clone(v))
}

// withFront puts the front end where a person marked it. The advance is then counted from that very
// place on the frame's own scale: neither the number its graduations were given nor what the other
// frames say of the end matters.
func withFront(r ruler.Reading, put runfile.Correction) ruler.Reading {
	if put.Front != nil && r.Status == ruler.StatusRead {
		r.Front = endAt(r.Scale, *put.Front, put.FrontU)
	}
	return r
}

// endAt is a front end at a place, carried along the marks' lean onto the ruler's long axis.
func endAt(c ruler.Scale, p ruler.Point, u float64) *ruler.End {
	across := ruler.Line{A: p, B: p.Add(c.MarkDir(c.Along(p)))}
	if q, meets := c.Long.Meet(across); meets {
		p = q
		across.A, across.B = q, q.Add(c.MarkDir(c.Along(q)))
	}
	return &ruler.End{At: p, Line: across, U: u, Reading: c.Reading(c.Along(p))}
}

// frontOffset is how far the front end lies from its stated place on the ruler's own scale, m. The
// scale is placed to a few hundredths of a pixel, an edge to a few tenths; but all frames show the
// same end of the same ruler, so the run's median stands for each.
func frontOffset(r runfile.Run, shots []Shot, readings []ruler.Reading) float64 {
	stated := 0.0
	if r.Ruler.Front != nil {
		stated = *r.Ruler.Front
	}
	if r.Ruler.Band {
		stated = r.Ruler.BandAt
	}
	var off []float64
	for i, g := range readings {
		if g.Status == ruler.StatusRead && g.Front != nil && r.Corrections.Of(shots[i].Name).Front == nil {
			off = append(off, g.Front.Reading-stated)
		}
	}
	return stat.Median(slices.Clone(off))
}
