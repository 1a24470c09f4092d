package doubleflash

import (
	"math"

	"leadmark/vision/ruler"
	"leadmark/vision/ruler/scale"
)

// fewest is how many graduations must show both flashes.
const fewest = 8

// fitter is a search for two images in one row.
type fitter struct {
	row     ruler.Row
	face    Face
	spec    ruler.Spec
	scale   *scale.ByIndex
	forward float64 // +1: the front end lies towards rising T

	// Two combs half a pitch apart look like one of half the pitch: stride of the row's assumed
	// pitches make a graduation.
	stride  float64
	correct func(u float64) float64 // of the scale's index
	safe    flatFace                // where both flashes surely show lines
	power   []float64               // of each of its bands
	pattern scale.Pattern
	start   start
}

// index is the place of t on the scale in graduations, as far as it is known before the fit.
func (f *fitter) index(t float64) float64 {
	u := f.scale.Index(t)
	return (u + f.correct(u)) / f.stride
}

func (f *fitter) indices(flat flatFace) []float64 {
	u := make([]float64, len(flat.t))
	for i, t := range flat.t {
		u[i] = f.index(t)
	}
	return u
}

// straighten takes the part of the face away from the front end, where both combs surely lie, and
// corrects the scale by it.
func (f *fitter) straighten() bool {
	m := f.row.Marks
	lo, hi := m[0].T, m[len(m)-1].T
	if cut := min(14*f.row.Pitch, 0.4*(hi-lo)); f.forward > 0 {
		hi -= cut
	} else {
		lo += cut
	}
	f.safe = f.face.flat(lo, hi, 20*f.row.Pitch)
	if len(f.safe.band) < 3 || hi-lo < fewest*f.row.Pitch {
		return false
	}
	f.power = f.safe.power()
	for j := range f.power {
		f.power[j] = f.power[j]/float64(len(f.safe.t)) + 1e-9
	}
	f.stride, f.correct = 1, func(float64) float64 { return 0 }
	f.correct = f.safe.straighten(f.indices(f.safe))
	return true
}

// findCombs finds pattern and phases of the two combs.
func (f *fitter) findCombs() bool {
	u := f.indices(f.safe)
	if math.Abs(u[len(u)-1]-u[0]) < fewest {
		return false
	}
	f.start.cost = math.Inf(1)
	for _, p := range scale.Patterns() {
		if f.spec.Graduation > 0 && !scale.IsStated(p.Graduation, f.spec) {
			continue
		}
		if s := f.safe.coarse(u, combsOf(p)); s.cost < f.start.cost {
			f.pattern, f.start = p, s
		}
	}
	return !math.IsInf(f.start.cost, 1)
}
