package plan

import (
	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/subject"
	"leadmark/calib/rig"
)

// What the tests of the outside look into.

// FlashFNumber is the f-number of a head.
func FlashFNumber(h rig.Head, power, iso, distance float64) float64 {
	return flashFNumber(h, power, iso, distance)
}

// StopsOver is the difference of two f-numbers in stops.
func StopsOver(a, b float64) float64 { return stopsOver(a, b) }

// LightFor plans the heads for an f-number at work.
func LightFor(heads []rig.Head, needed, iso float64) Light { return lightFor(heads, needed, iso) }

// Ambient reckons how far the ambient light is below the flash.
func (l *Light) Ambient(ev100, exposure float64) float64 {
	l.ambient(ev100, exposure)
	return *l.AmbientBelow
}

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
