package mixed

import (
	"math"
	"sort"

	"leadmark/fit/stat"
)

// Posterior is the distribution of the variance place y given the readings: restricted
// likelihood times the prior sqrt(information on y), on a grid with trapezoid weights. For equal
// shots it is the textbook chi-squared law of a residual variance and the intervals below are the
// textbook t and prediction intervals (docs/method.md has the proof and the measured coverage).
type Posterior struct {
	*Model
	Best   Point
	Valued Point // where values are taken: Best, but not below a spread of nil
	Points []Point
	Mass   []float64 // of each point, 1 in all
}

const (
	gridStep = 0.3 // in standard deviations of y
	gridDrop = 14  // log density below the peak where the grid ends
)

// Integrate lays the grid out from the best place, one side of the joint at y = 0 at a time.
func (m *Model) Integrate(best Point, floor float64) *Posterior {
	post := &Posterior{Model: m, Best: best, Valued: best}
	if best.Y < 0 {
		post.Valued = m.At(0)
	}
	step := gridStep / math.Sqrt(math.Max(best.Info, 1e-3))
	if best.Info > 100 && best.Y*math.Sqrt(best.Info) > 8 {
		// Near enough a normal law, on which the trapezoid rule errs by exp(-2 pi^2/0.6^2) = 1e-24;
		// the joint is out of its reach.
		step *= 2
	}
	peak := best.loglik + 0.5*math.Log(best.Info)
	right, left := math.Max(best.Y, 0), math.Min(best.Y, Below0)
	end := right
	for end < Limit && m.logDensity(end) > peak-gridDrop {
		end += 4 * step
	}
	post.segment(math.Max(0, right-m.reach(right, 0, peak, step)), end, step, peak)
	if floor < 0 {
		low := math.Max(floor, left-m.reach(left, floor, peak, step))
		if best.Y >= 0 && m.logDensity(Below0) < peak-gridDrop {
			low = Below0
		}
		post.segment(low, Below0, step, peak)
	}
	post.normalise()
	return post
}

// reach is how far left of y the density stays worth integrating.
func (m *Model) reach(y, floor, peak, step float64) float64 {
	d := 0.0
	for y-d > floor && m.logDensity(y-d) > peak-gridDrop {
		d += 4 * step
	}
	return d
}

func (m *Model) logDensity(y float64) float64 {
	pt := m.At(y)
	if !pt.OK || !(pt.Info > 0) {
		return math.Inf(-1)
	}
	return pt.loglik + 0.5*math.Log(pt.Info)
}

// segment adds [lo, hi] with trapezoid weights.
func (p *Posterior) segment(lo, hi, step, peak float64) {
	if !(hi > lo) {
		return
	}
	k := int(math.Ceil((hi-lo)/step)) + 1
	h := (hi - lo) / float64(k)
	for i := 0; i <= k; i++ {
		pt := p.At(lo + float64(i)*h)
		if !pt.OK || !(pt.Info > 0) {
			continue
		}
		w := h * math.Exp(pt.loglik+0.5*math.Log(pt.Info)-peak)
		if i == 0 || i == k {
			w /= 2
		}
		p.Points, p.Mass = append(p.Points, pt), append(p.Mass, w)
	}
}

func (p *Posterior) normalise() {
	order := make([]int, len(p.Points))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return p.Points[order[a]].Y < p.Points[order[b]].Y })
	points, mass, sum := make([]Point, len(order)), make([]float64, len(order)), 0.0
	for k, i := range order {
		points[k], mass[k] = p.Points[i], p.Mass[i]
		sum += mass[k]
	}
	for i := range mass {
		mass[i] /= sum
	}
	p.Points, p.Mass = points, mass
}

// matchCap bounds, smoothly, the factor by which the matching prior may favour one place over
// another: its derivation is for many shots, and with four shots and large common errors it
// overdoes it (docs/method.md has the bounds tried).
const matchCap = 10.0

// Column is the mixture for one unknown; shots = 1 adds the spread's own variance (a next shot).
//
// The prior on y is the one under which the interval for this very unknown holds the truth as often
// as it says, to second order: information / (d log v/dy), v the unknown's variance. It follows
// from Mukerjee and Ghosh, Biometrika 84 (1997) 970, for a place with known law given a scale; for
// equal shots without common errors it is flat in log variance and gives Student's t exactly.
func (p *Posterior) Column(j int, shots float64) stat.Mixture {
	mix := make(stat.Mixture, len(p.Points))
	sum := 0.0
	for i, pt := range p.Points {
		v, dv := pt.Cov[j*p.P+j]+shots*pt.T, pt.DCov[j*p.P+j]
		if pt.Y >= 0 {
			dv += shots * p.Unit * math.Exp(pt.Y)
		}
		mass := p.Mass[i] * Matching(pt.Info, v, dv) / math.Sqrt(pt.Info)
		mix[i] = stat.Normal{Mass: mass, Mean: p.Theta[j] + pt.Step[j], SD: math.Sqrt(math.Max(v, 0))}
		sum += mass
	}
	for i := range mix {
		mix[i].Mass /= sum
	}
	return mix
}

// Matching is the prior of the place y that makes the interval of an unknown of variance v right to
// second order.
func Matching(info, v, dv float64) float64 { return info / (dv/v + 1/matchCap) }
