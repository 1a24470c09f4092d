package fit

import (
	"math"

	"leadmark/fit/stat"
)

// A rehearsal is the run's design in one dimension, without its readings: with what chance the
// place on the variance path is estimated where, and how wide an interval follows. It tells how
// often the next shot's interval holds what it says near a spread of nil, where no prior makes it
// right both at nil and at half the reading noise, and by which factor to stretch it so that it
// does: calibration of a prediction interval against its own model (Beran, J. Am. Stat. Assoc. 85
// (1990) 715; Hall, Peng and Tajvidi, Biometrika 86 (1999) 871), with the bootstrap's draws
// replaced by sums over a grid.
//
// Places lie half a standard deviation of their own estimate apart. About its true place, an
// estimated one is taken as distributed like the logarithm of a residual variance with 2 x
// information degrees of freedom: exact for equal shots.
type rehearsal struct {
	y       []float64   // places, ascending
	zero    int         // index of y = 0
	share   []float64   // share[reachLeft+d]: chance of an estimate d places above the truth
	chance  [][]float64 // chance[y][z] of an estimate at place z when the truth is place y
	total   []float64   // standard deviation of the next shot's distance from the lag's estimate, at each place
	lag     []float64   // half-width of the lag's interval when the estimate lies at a place
	next    []float64   // and of the next shot's, before stretching
	stretch []float64   // the factor found
}

const (
	placeStep  = 0.5 // standard deviations
	reachLeft  = 32  // places an estimate may lie below the truth
	reachRight = 10  // and above
)

// places are points on the path from y on, half a standard deviation apart, upwards or downwards.
func (m *linear) places(y, way float64, count int) []point {
	var out []point
	for len(out) < count && y >= yFloor && y < yLimit {
		pt := m.at(y)
		if !pt.ok || !(pt.info > 0) {
			break
		}
		out = append(out, pt)
		y += way * placeStep / math.Sqrt(pt.info)
	}
	return out
}

// logVariance is the law of log(chi-squared/df) in places: the kernel exp(df/2 (x - e^x)), summed to 1.
func logVariance(df float64) []float64 {
	share, sum := make([]float64, reachLeft+reachRight+1), 0.0
	for i := range share {
		x := float64(i-reachLeft) * placeStep * math.Sqrt(2/df)
		share[i] = math.Exp(df / 2 * (x - math.Expm1(x)))
		sum += share[i]
	}
	for i := range share {
		share[i] /= sum
	}
	return share
}

// chances fills chance; estimates below the lowest place count there.
func (r *rehearsal) chances() {
	for y := range r.y {
		row, all := make([]float64, len(r.y)), 0.0
		for d, c := range r.share {
			if z := max(y+d-reachLeft, 0); z < len(row) {
				row[z], all = row[z]+c, all+c
			}
		}
		for z := range row {
			row[z] /= all
		}
		r.chance = append(r.chance, row)
	}
}

// halfWidths are those of the mixture intervals for each place of the estimate.
func (r *rehearsal) halfWidths(sd, prior []float64) []float64 {
	out := make([]float64, len(r.y))
	for z := range out {
		var mix stat.Mixture
		sum := 0.0
		for y := range r.y {
			if d := z - y + reachLeft; d >= 0 && d < len(r.share) && r.share[d] > 1e-7 {
				mass := r.share[d] * prior[y]
				mix, sum = append(mix, stat.Normal{Mass: mass, SD: sd[y]}), sum+mass
			}
		}
		for i := range mix {
			mix[i].Mass /= sum
		}
		out[z] = mix.Quantile(0.975)
	}
	return out
}

// factor is the stretch for an estimate at y.
func (r *rehearsal) factor(y float64) float64 {
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
