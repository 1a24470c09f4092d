package reach

import (
	"math"
	"testing"

	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/subject"
)

// No box of another shape holds as much in less: faces moved against each other, at equal
// probability, save less than the 1 % of volume that the search leaves.
func TestTheBoxIsTheSmallest(t *testing.T) {
	rad := func(deg float64) float64 { return deg * math.Pi / 180 }
	measured := predict.Law{Mean: 0.0523, Scale: 0.00085, DF: 17, Spread: 0.0008, MeanU: 0.0002}
	for _, motion := range []subject.Motion{subject.Straight, subject.Hop} {
		s := subject.Subject{Length: 0.012, Height: 0.006, Width: 0.008, Speed: 1.2, SpeedSD: 0.3,
			Elevation: rad(5), ElevationSD: rad(8), AzimuthSD: rad(6), Exit: [2]float64{0.01, 0.01}}
		if s.Motion = motion; motion == subject.Hop {
			s.Elevation, s.ElevationSD, s.Speed = rad(45), rad(15), 3
		}
		if save := smallestSaving(s, measured, 0.95); save > 0.012 {
			t.Errorf("%s: another shape saves %.2f %% of the volume", motion, 100*save)
		}
	}
}

// smallestSaving is by how much of its volume the box can be made smaller by moving its faces
// against each other, at equal probability on trips that the search did not see.
func smallestSaving(s subject.Subject, law predict.Law, p float64) float64 {
	m := New(s, law, 0)
	_, found := smallest(m.Sample(shapeDraws(p), 1, 1), m.Sample(1<<17, 1, 2), p)
	fresh := m.Sample(1<<18, 7, 7)
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
