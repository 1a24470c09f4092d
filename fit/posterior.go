package fit

import (
	"math"
	"sort"

	"leadmark/fit/stat"
)

// posterior is the distribution of the variance place y given the readings: restricted
// likelihood times the prior sqrt(information on y), on a grid with trapezoid weights. For equal
// shots it is the textbook chi-squared law of a residual variance and the intervals below are the
// textbook t and prediction intervals (docs/method.md has the proof and the measured coverage).
type posterior struct {
	*linear
	best   point
	valued point // where values are taken: best, but not below a spread of nil
	points []point
	mass   []float64
}

const (
	gridStep = 0.3 // in standard deviations of y
	gridDrop = 14  // log density below the peak where the grid ends
)

// integrate lays the grid out from the best place, one side of the joint at y = 0 at a time.
func (m *linear) integrate(best point, floor float64) *posterior {
	post := &posterior{linear: m, best: best, valued: best}
	if best.y < 0 {
		post.valued = m.at(0)
	}
	step := gridStep / math.Sqrt(math.Max(best.info, 1e-3))
	if best.info > 100 && best.y*math.Sqrt(best.info) > 8 {
		// Near enough a normal law, on which the trapezoid rule errs by exp(-2 pi^2/0.6^2) = 1e-24;
		// the joint is out of its reach.
		step *= 2
	}
	peak := best.loglik + 0.5*math.Log(best.info)
	right, left := math.Max(best.y, 0), math.Min(best.y, yBelow0)
	end := right
	for end < yLimit && m.logDensity(end) > peak-gridDrop {
		end += 4 * step
	}
	post.segment(math.Max(0, right-m.reach(right, 0, peak, step)), end, step, peak)
	if floor < 0 {
		low := math.Max(floor, left-m.reach(left, floor, peak, step))
		if best.y >= 0 && m.logDensity(yBelow0) < peak-gridDrop {
			low = yBelow0
		}
		post.segment(low, yBelow0, step, peak)
	}
	post.normalise()
	return post
}

// reach is how far left of y the density stays worth integrating.
func (m *linear) reach(y, floor, peak, step float64) float64 {
	d := 0.0
	for y-d > floor && m.logDensity(y-d) > peak-gridDrop {
		d += 4 * step
	}
	return d
}

func (m *linear) logDensity(y float64) float64 {
	pt := m.at(y)
	if !pt.ok || !(pt.info > 0) {
		return math.Inf(-1)
	}
	return pt.loglik + 0.5*math.Log(pt.info)
}

// segment adds [lo, hi] with trapezoid weights.
func (p *posterior) segment(lo, hi, step, peak float64) {
	if !(hi > lo) {
		return
	}
	k := int(math.Ceil((hi-lo)/step)) + 1
	h := (hi - lo) / float64(k)
	for i := 0; i <= k; i++ {
		pt := p.at(lo + float64(i)*h)
		if !pt.ok || !(pt.info > 0) {
			continue
		}
		w := h * math.Exp(pt.loglik+0.5*math.Log(pt.info)-peak)
		if i == 0 || i == k {
			w /= 2
		}
		p.points, p.mass = append(p.points, pt), append(p.mass, w)
	}
}

func (p *posterior) normalise() {
	order := make([]int, len(p.points))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return p.points[order[a]].y < p.points[order[b]].y })
	points, mass, sum := make([]point, len(order)), make([]float64, len(order)), 0.0
	for k, i := range order {
		points[k], mass[k] = p.points[i], p.mass[i]
		sum += mass[k]
	}
	for i := range mass {
		mass[i] /= sum
	}
	p.points, p.mass = points, mass
}

// matchCap bounds, smoothly, the factor by which the matching prior may favour one place over
// another: its derivation is for many shots, and with four shots and large common errors it
// overdoes it (docs/method.md has the bounds tried).
const matchCap = 10.0

// column is the mixture for one unknown; shots = 1 adds the spread's own variance (a next shot).
//
// The prior on y is the one under which the interval for this very unknown holds the truth as often
// as it says, to second order: information / (d log v/dy), v the unknown's variance. It follows
// from Mukerjee and Ghosh, Biometrika 84 (1997) 970, for a place with known law given a scale; for
// equal shots without common errors it is flat in log variance and gives Student's t exactly.
func (p *posterior) column(j int, shots float64) stat.Mixture {
	mix := make(stat.Mixture, len(p.points))
	sum := 0.0
	for i, pt := range p.points {
		v, dv := pt.cov[j*p.p+j]+shots*pt.t, pt.dcov[j*p.p+j]
		if pt.y >= 0 {
			dv += shots * p.unit * math.Exp(pt.y)
		}
		mass := p.mass[i] * matching(pt.info, v, dv) / math.Sqrt(pt.info)
		mix[i] = stat.Normal{Mass: mass, Mean: p.theta[j] + pt.step[j], SD: math.Sqrt(math.Max(v, 0))}
		sum += mass
	}
	for i := range mix {
		mix[i].Mass /= sum
	}
	return mix
}

// matching is the prior of the place y that makes the interval of an unknown of variance v right to
// second order.
func matching(info, v, dv float64) float64 { return info / (dv/v + 1/matchCap) }

// place is the quantile of y itself: the density between grid places is a parabola through both
// ends and the middle, the middle from a cubic through four log densities.
func (p *posterior) place(q float64) float64 {
	n := len(p.points)
	if n == 1 {
		return p.points[0].y
	}
	cells, total := make([]parabola, n-1), 0.0
	for i := range cells {
		cells[i] = p.cell(i)
		total += cells[i].area(1)
	}
	sum := 0.0
	for i, c := range cells {
		if area := c.area(1); sum+area >= q*total {
			x := stat.Root(func(x float64) float64 { return (sum+c.area(x))/total - q }, 0, 1)
			return p.points[i].y + x*c.width
		} else {
			sum += area
		}
	}
	return p.points[n-1].y
}

// parabola is a density over one cell of the grid, by its values at 0, 1/2 and 1 of the width.
type parabola struct{ start, mid, end, width float64 }

// area is the integral from 0 to the share x of the cell.
func (c parabola) area(x float64) float64 {
	a, b := 2*(c.start-2*c.mid+c.end), -3*c.start+4*c.mid-c.end
	return c.width * (c.start*x + b*x*x/2 + a*x*x*x/3)
}

func (p *posterior) cell(i int) parabola {
	log := func(k int) float64 { return p.points[k].loglik + 0.5*math.Log(p.points[k].info) - p.best.loglik }
	y := func(k int) float64 { return p.points[k].y }
	h, l1, l2 := y(i+1)-y(i), log(i), log(i+1)
	mid := (l1 + l2) / 2
	even := func(a, b int) bool { return a >= 0 && b < len(p.points) && math.Abs(y(b)-y(a)-h) < 1e-6*h }
	if even(i-1, i) && even(i+1, i+2) {
		mid = (9*(l1+l2) - log(i-1) - log(i+2)) / 16
	}
	return parabola{math.Exp(l1), math.Exp(mid), math.Exp(l2), h}
}
