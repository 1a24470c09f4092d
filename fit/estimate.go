package fit

import (
	"math"

	"leadmark/fit/mixed"
	"leadmark/fit/nextshot"
)

// methodLag names the estimator in every Estimate it makes.
const methodLag = "restricted likelihood, integrated over the spread"

// posterior is the law of the unknowns of a run, from which its estimates are taken.
type posterior struct {
	*layout
	*mixed.Posterior
}

func (s *solution) integrate(floor float64) *posterior {
	return &posterior{s.layout, s.Integrate(s.Best, floor)}
}

// estimates fills what the run can tell of the rig.
func (s *solution) estimates(know told) (res Result) {
	if know.noSpare {
		return res
	}
	post := s.integrate(mixed.Floor)
	if know.spread {
		res.Spread = post.spread()
	}
	if know.trip {
		res.TripOffset = post.estimate(colTrip)
	}
	for g, name := range s.groups {
		if know.speeds[g] {
			res.Speeds = append(res.Speeds, GroupSpeed{name, *post.estimate(colSpan + g)})
		}
	}
	if know.lag {
		res.Lag, res.Curve = post.estimate(colLag), s.curve()
		if know.spread {
			low, high := nextshot.Interval(post.Posterior, colLag)
			res.NextShot = &Interval{low, high}
		}
		s.bend(&res)
	}
	return res
}

// estimate reports unknown j: the value at the restricted maximum over spreads of nil or more
// (readings that scatter less than they should do so by chance: taking them at their word makes the
// value worse, docs/method.md), its standard uncertainty with Kenward and Roger's (1997) addition,
// Satterthwaite's degrees of freedom, and the interval of the mixture over the spread.
func (p *posterior) estimate(j int) *Estimate {
	v, dv := p.Best.Cov[j*p.P+j], p.Best.DCov[j*p.P+j]
	u2 := v + math.Max(p.Best.Adjust[j*p.P+j], 0)/p.Best.Info
	mix := p.Column(j, 0)
	return &Estimate{
		Value:      p.Theta[j] + p.Valued.Step[j],
		U:          math.Sqrt(u2),
		DF:         capDF(2 * v * v * p.Best.Info / (dv * dv)),
		Interval95: Interval{mix.Quantile(0.025), mix.Quantile(0.975)},
		Method:     methodLag,
	}
}

// ManyDF stands for degrees of freedom without end: t and normal quantiles agree there to 6 digits,
// and JSON knows no infinity.
const ManyDF = 1e6

func capDF(df float64) float64 {
	if !(df < ManyDF) {
		return ManyDF
	}
	return df
}

// spread reports the shot-to-shot standard deviation. The value is 0 when the readings scatter no
// more than their own uncertainty explains; the upper end never is. What is measured is a
// displacement, so an uncertain speed makes the spread uncertain in proportion (slopeU).
func (p *posterior) spread() *Estimate {
	rel := p.slopeU()
	e := &Estimate{Value: math.Sqrt(p.Best.T), DF: capDF(2 * p.Best.Info), Method: methodLag,
		Interval95: Interval{p.spreadAt(0.025, rel), p.spreadAt(0.975, rel)}}
	// With next to nothing known of the spread the mode may lie outside the middle 95 %.
	e.Interval95.Low, e.Interval95.High = math.Min(e.Interval95.Low, e.Value), math.Max(e.Interval95.High, e.Value)
	if e.Value > 0 { // d sigma = unit e^y dy / (2 sigma)
		e.U = math.Hypot(p.Unit*math.Exp(p.Best.Y)/(2*e.Value*math.Sqrt(p.Best.Info)), rel*e.Value)
	} else {
		e.U = e.Interval95.High / 2
	}
	return e
}

// spreadAt is the quantile q of the spread: the place on the path, times a log-normal factor for
// the uncertain slopes where that is more than a per mille.
func (p *posterior) spreadAt(q, rel float64) float64 {
	plain := math.Sqrt(p.Unit * math.Max(math.Expm1(p.Place(q)), 0))
	if rel < 1e-3 {
		return plain
	}
	below := func(s float64) float64 {
		sum := 0.0
		for i, pt := range p.Points {
			if pt.T <= 0 {
				sum += p.Mass[i]
				continue
			}
			z := math.Log(s/math.Sqrt(pt.T)) / rel
			sum += p.Mass[i] * 0.5 * math.Erfc(-z/math.Sqrt2)
		}
		return sum
	}
	top := math.Sqrt(math.Max(p.Points[len(p.Points)-1].T, p.Unit))
	lo, hi := math.Log(top)-40, math.Log(top)+10*rel
	if below(math.Exp(lo)) >= q {
		return 0
	}
	for i := 0; i < 80; i++ {
		if mid := (lo + hi) / 2; below(math.Exp(mid)) < q {
			lo = mid
		} else {
			hi = mid
		}
	}
	return math.Exp(hi)
}

// slopeU is the relative standard uncertainty of ds/dtau, each shot weighed by what it says of the
// spread: the gradient of the mean log slope, through the covariance of the unknowns.
func (p *posterior) slopeU() float64 {
	grad, sum := make([]float64, p.P), 0.0
	d := p.Diagonal(math.Max(p.Best.Y, 0))
	for i, s2 := range p.Slope2 {
		if d[i] == 0 || s2 == 0 {
			continue
		}
		w, slope := sq(s2/d[i]), math.Sqrt(s2)
		sum += w
		grad[colLag] += w * p.accel(i) / slope
		if g := p.groupOf[i]; g >= 0 {
			grad[colSpan+g] += w / p.Theta[colSpan+g]
		}
	}
	if sum == 0 {
		return 0
	}
	return math.Sqrt(math.Max(mixed.Quadratic(p.Best.Cov, grad), 0)) / sum
}

// curve predicts the mean advance at a speed and a delay, with the acceleration of the run's drops.
func (s *solution) curve() func(v, d float64) (mean, u float64) {
	lag, trip, p := s.Theta[colLag], s.Theta[colTrip], s.P
	a := 0.0
	for i := range s.run.Shots {
		a = math.Max(a, s.accel(i))
	}
	c := []float64{s.Best.Cov[0], s.Best.Cov[1], s.Best.Cov[p+1]}
	t := s.Best.T
	return func(v, d float64) (mean, u float64) {
		tau := lag + d
		slope := v + a*tau
		return trip + v*tau + a*(tau*tau+t)/2, math.Sqrt(math.Max(slope*slope*c[0]+2*slope*c[1]+c[2], 0))
	}
}
