package fit

import "math"

// A rehearsal is the run's design in one dimension, without its readings: with what chance the place on the variance path is
// estimated where, and how wide an interval follows. It tells how often the next shot's interval holds what it says near a spread of
// nil, where no prior makes it right both at nil and at half the reading noise, and by which factor to stretch it so that it does:
// calibration of a prediction interval against its own model (Beran, Ann. Stat. 18 (1990) 715; iterated: Hall, Peng and Tajvidi, Biometrika
// 86 (1999) 871), with the bootstrap's draws replaced by sums over a grid.
//
// Places lie half a standard deviation of their own estimate apart. About its true place, an estimated one is taken as distributed
// like the logarithm of a residual variance with 2 x information degrees of freedom: exact for equal shots.
type rehearsal struct {
	y       []float64   // places, ascending
	zero    int         // index of y = 0
	share   []float64   // share[reachLeft+d]: chance of an estimate d places above the truth
	chance  [][]float64 // chance[y][z] of an estimate at place z when the truth is place y
	own     []float64   // standard deviation of the lag's estimate at each place
	total   []float64   // and of the next shot's distance from it
	lag     []float64   // half-width of the lag's interval when the estimate lies at a place
	next    []float64   // and of the next shot's, before stretching
	stretch []float64   // the factor found
}

const (
	placeStep   = 0.5 // standard deviations
	placesBelow = 13  // places looked at on either side of nil
	placesAbove = 24
	plainFrom   = 18    // places above nil from which nothing is stretched
	holdsAbove  = 12    // places above nil up to which the coverage is set right
	reachLeft   = 32    // places an estimate may lie below the truth
	reachRight  = 10    // and above
	atRest      = 0.005 // deviations of coverage left alone
	restBelow0  = 0.02  // shortfall left alone where the readings are better than stated
	rehearsals  = 30
	gain        = 14.0 // of the width for a shortfall: 4 would be 1/(d coverage / d log width) at 95 %, but sharing it out smooths
	narrowest   = 0.9  // of the lag's own interval: the next shot's is never made narrower than this
	widest      = 1.6  // factor
)

// stretchAt is the factor by which to stretch the next shot's interval when the place on the path is estimated as y; 1 far above nil
// and where there is nothing to be learnt of the spread.
func (m *linear) stretchAt(y float64) float64 {
	right := m.places(0, 1, placesAbove)
	if len(right) < placesAbove || y >= right[plainFrom].y {
		return 1
	}
	left := m.places(yBelow0, -1, placesBelow)
	if len(left) == 0 {
		return 1
	}
	return m.rehearse(left, right).factor(y)
}

// rehearse lays the places out and finds the stretch at each.
func (m *linear) rehearse(left, right []point) *rehearsal {
	r := &rehearsal{zero: len(left) - 1, share: logVariance(2 * right[0].info)}
	var points []point
	for i := len(left) - 1; i > 0; i-- {
		points = append(points, left[i])
	}
	points = append(points, right...)
	var lagPrior, nextPrior []float64
	for _, pt := range points {
		v, dv := pt.cov[colLag*m.p+colLag], pt.dcov[colLag*m.p+colLag]
		dt := 0.0
		if pt.y >= 0 {
			dt = m.unit * math.Exp(pt.y)
		}
		r.y = append(r.y, pt.y)
		r.own, r.total = append(r.own, math.Sqrt(v)), append(r.total, math.Sqrt(v+pt.t))
		lagPrior = append(lagPrior, matching(pt.info, v, dv)/math.Sqrt(pt.info))
		nextPrior = append(nextPrior, matching(pt.info, v+pt.t, dv+dt)/math.Sqrt(pt.info))
	}
	r.chances()
	r.lag, r.next = r.halfWidths(r.own, lagPrior), r.halfWidths(r.total, nextPrior)
	r.calibrate()
	return r
}

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
		var mix []normal
		sum := 0.0
		for y := range r.y {
			if d := z - y + reachLeft; d >= 0 && d < len(r.share) && r.share[d] > 1e-7 {
				mass := r.share[d] * prior[y]
				mix, sum = append(mix, normal{mass, 0, sd[y]}), sum+mass
			}
		}
		for i := range mix {
			mix[i].mass /= sum
		}
		out[z] = quantile(mix, 0.975)
	}
	return out
}

// calibrate finds the stretch: the shortfall of coverage at each place, shared out over the estimates that place gives rise to, again
// and again. Intervals stay monotone in the scatter and no narrower than narrowest of the lag's own.
func (r *rehearsal) calibrate() {
	n := len(r.y)
	r.stretch = make([]float64, n)
	for z := range r.stretch {
		r.stretch[z] = 1
	}
	for k := 0; k < rehearsals; k++ {
		short, any := r.shortfalls()
		if !any {
			return
		}
		last := 0.0
		for z := range r.stretch {
			sum, weight := 0.0, 1e-12
			for y := 0; y < min(r.zero+holdsAbove+8, n); y++ {
				w := r.chance[y][z]
				sum, weight = sum+w*short[y], weight+w
			}
			f := r.stretch[z] * math.Exp(gain*sum/weight)
			f = math.Min(math.Max(f, math.Min(1, narrowest*r.lag[z]/r.next[z])), widest)
			r.stretch[z] = math.Max(f, last/r.next[z])
			last = r.stretch[z] * r.next[z]
		}
	}
}

// shortfalls of coverage at each place beyond what is left alone.
func (r *rehearsal) shortfalls() (short []float64, any bool) {
	short = make([]float64, len(r.y))
	for y := 0; y < min(r.zero+holdsAbove+1, len(short)); y++ {
		miss := 0.95 - r.coverage(y)
		switch {
		case y < r.zero:
			short[y] = math.Max(miss-restBelow0, 0)
		case miss > 0:
			short[y] = math.Max(miss-atRest, 0)
		default:
			short[y] = math.Min(miss+atRest, 0)
		}
		any = any || short[y] != 0
	}
	return short, any
}

// coverage of the stretched interval when the truth is place y.
func (r *rehearsal) coverage(y int) float64 {
	sum := 0.0
	for z, c := range r.chance[y] {
		if c > 1e-6 {
			sum += c * math.Erf(r.stretch[z]*r.next[z]/(r.total[y]*math.Sqrt2))
		}
	}
	return sum
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
