package nextshot

import (
	"math"

	"leadmark/fit/mixed"
)

// A calibration is the model's design in one dimension, without its values: with what chance the
// place on the variance path is estimated where, and how wide an interval follows. It tells how
// often the next value's interval holds what it says near a spread of nil, where no prior makes it
// right both at nil and at half the reading noise, and by which factor to stretch it so that it
// does: calibration of a prediction interval against its own model (Beran, J. Am. Stat. Assoc. 85
// (1990) 715; Hall, Peng and Tajvidi, Biometrika 86 (1999) 871), with the bootstrap's draws
// replaced by sums over a grid.
//
// Places lie half a standard deviation of their own estimate apart. About its true place, an
// estimated one is taken as distributed like the logarithm of a residual variance with 2 x
// information degrees of freedom: exact for equal shots.
type calibration struct {
	y       []float64   // places, ascending
	zero    int         // index of y = 0
	share   []float64   // share[reachLeft+d]: chance of an estimate d places above the truth
	chance  [][]float64 // chance[y][z] of an estimate at place z when the truth is place y
	total   []float64   // standard deviation of the next value's distance from the estimate, at each place
	own     []float64   // half-width of the unknown's interval when the estimate lies at a place
	next    []float64   // and of the next value's, before stretching
	stretch []float64   // the factor found
}

// stretchOf is the factor by which to stretch the interval of the next value of unknown j for the best
// place on the path; 1 far above nil and where there is nothing to be learnt of the spread.
func stretchOf(m *mixed.Model, j int, best mixed.Point) float64 {
	// So far above nil, the places need not be laid out.
	if best.Y*math.Sqrt(math.Min(m.At(0).Info, best.Info)) > plainFrom*placeStep*1.5 {
		return 1
	}
	right, y := places(m, 0, 1, placesAbove), best.Y
	if len(right) < placesAbove || y >= right[plainFrom].Y {
		return 1
	}
	left := places(m, mixed.Below0, -1, placesBelow)
	if len(left) == 0 {
		return 1
	}
	return calibrate(m, j, left, right).factor(y)
}

// calibrate lays the places out and finds the stretch at each.
func calibrate(m *mixed.Model, j int, left, right []mixed.Point) *calibration {
	r := &calibration{zero: len(left) - 1, share: logVariance(2 * right[0].Info)}
	var points []mixed.Point
	for i := len(left) - 1; i > 0; i-- {
		points = append(points, left[i])
	}
	points = append(points, right...)
	var sd, ownPrior, nextPrior []float64
	for _, pt := range points {
		v, dv := pt.Cov[j*m.P+j], pt.DCov[j*m.P+j]
		dt := 0.0
		if pt.Y >= 0 {
			dt = m.Unit * math.Exp(pt.Y)
		}
		r.y = append(r.y, pt.Y)
		sd, r.total = append(sd, math.Sqrt(v)), append(r.total, math.Sqrt(v+pt.T))
		ownPrior = append(ownPrior, mixed.Matching(pt.Info, v, dv)/math.Sqrt(pt.Info))
		nextPrior = append(nextPrior, mixed.Matching(pt.Info, v+pt.T, dv+dt)/math.Sqrt(pt.Info))
	}
	r.chances()
	r.own, r.next = r.halfWidths(sd, ownPrior), r.halfWidths(r.total, nextPrior)
	r.stretch = make([]float64, len(r.y))
	r.findStretch()
	return r
}

// factor is the stretch for an estimate at y.
func (r *calibration) factor(y float64) float64 {
	if y <= r.y[0] {
		return r.stretch[0]
	}
	i := 1
	for i < len(r.y)-1 && r.y[i] < y {
		i++
	}
	w := (y - r.y[i-1]) / (r.y[i] - r.y[i-1])
	return (1-w)*r.stretch[i-1] + w*r.stretch[i]
}
