package plan

import (
	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/subject"
)

// What the tests of the outside look into.

// Lab is a colour in CIE 1976.
func Lab(c RGB) [3]float64 { return lab(c) }

// MagnificationAt is the magnification at a distance from the sensor.
func MagnificationAt(focal, d float64) (float64, bool) { return magnificationAt(focal, d) }

// SmallestSaving is by how much of its volume the box can be made smaller by moving its faces against each other, at equal
// probability on trips that the search did not see.
func SmallestSaving(s subject.Subject, law predict.Law, p float64) float64 {
	m := newModel(s, law, 0)
	_, found := smallest(m.draws(shapeDraws(p), 1, 1), m.draws(1<<17, 1, 2), p)
	fresh := m.draws(1<<18, 7, 7)
	k, _ := found.size(fresh, p)
	before, best := found.logVolume(k), 0.0
	for j := range found.half {
		for _, by := range []float64{0.85, 0.93, 1.07, 1.15} {
			t := found
			t.half[j] *= by
			k, _ := t.size(fresh, p)
			best = max(best, before-t.logVolume(k))
		}
	}
	return best
}
