package fit

import "math"

// methodLag names the estimator in every Estimate it makes.
const methodLag = "restricted likelihood, integrated over the spread"

// estimates fills what the run can tell of the rig.
func (s *solution) estimates(know told) (res Result) {
	if know.noSpare {
		return res
	}
	post := s.integrate(s.best, yFloor)
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
			res.NextShot = post.nextShot()
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
	v, dv := p.best.cov[j*p.p+j], p.best.dcov[j*p.p+j]
	u2 := v + math.Max(p.best.adjust[j*p.p+j], 0)/p.best.info
	mix := p.column(j, 0)
	return &Estimate{
		Value:      p.theta[j] + p.valued.step[j],
		U:          math.Sqrt(u2),
		DF:         capDF(2 * v * v * p.best.info / (dv * dv)),
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

// nextShot is where the lag of one more shot falls with 95 % probability: the mixture's interval,
// stretched by what the run's rehearsal says.
func (p *posterior) nextShot() *Interval {
	mix, at, factor := p.column(colLag, 1), p.theta[colLag]+p.valued.step[colLag], p.stretchAt(p.best)
	return &Interval{at - factor*(at-mix.Quantile(0.025)), at + factor*(mix.Quantile(0.975)-at)}
}

// spread reports the shot-to-shot standard deviation. The value is 0 when the readings scatter no
// more than their own uncertainty explains; the upper end never is. What is measured is a
// displacement, so an uncertain speed makes the spread uncertain in proportion (slopeU).
func (p *posterior) spread() *Estimate {
	rel := p.slopeU()
	e := &Estimate{Value: math.Sqrt(p.best.t), DF: capDF(2 * p.best.info), Method: methodLag,
		Interval95: Interval{p.spreadAt(0.025, rel), p.spreadAt(0.975, rel)}}
	// With next to nothing known of the spread the mode may lie outside the middle 95 %.
	e.Interval95.Low, e.Interval95.High = math.Min(e.Interval95.Low, e.Value), math.Max(e.Interval95.High, e.Value)
	if e.Value > 0 { // d sigma = unit e^y dy / (2 sigma)
		e.U = math.Hypot(p.unit*math.Exp(p.best.y)/(2*e.Value*math.Sqrt(p.best.info)), rel*e.Value)
	} else {
		e.U = e.Interval95.High / 2
	}
	return e
}

// spreadAt is the quantile q of the spread: the place on the path, times a log-normal factor for
// the uncertain slopes where that is more than a per mille.
func (p *posterior) spreadAt(q, rel float64) float64 {
	plain := math.Sqrt(p.unit * math.Max(math.Expm1(p.place(q)), 0))
	if rel < 1e-3 {
		return plain
	}
	below := func(s float64) float64 {
		sum := 0.0
		for i, pt := range p.points {
			if pt.t <= 0 {
				sum += p.mass[i]
				continue
			}
			z := math.Log(s/math.Sqrt(pt.t)) / rel
			sum += p.mass[i] * 0.5 * math.Erfc(-z/math.Sqrt2)
		}
		return sum
	}
	top := math.Sqrt(math.Max(p.points[len(p.points)-1].t, p.unit))
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
	grad, sum := make([]float64, p.p), 0.0
	d := p.diagonal(math.Max(p.best.y, 0))
	for i, s2 := range p.slope2 {
		if d[i] == 0 || s2 == 0 {
			continue
		}
		w, slope := sq(s2/d[i]), math.Sqrt(s2)
		sum += w
		grad[colLag] += w * p.accel(i) / slope
		if g := p.groupOf[i]; g >= 0 {
			grad[colSpan+g] += w / p.theta[colSpan+g]
		}
	}
	if sum == 0 {
		return 0
	}
	return math.Sqrt(math.Max(quadratic(p.best.cov, grad), 0)) / sum
}

// curve predicts the mean advance at a speed and a delay, with the acceleration of the run's drops.
func (s *solution) curve() func(v, d float64) (mean, u float64) {
	lag, trip, p := s.theta[colLag], s.theta[colTrip], s.p
	a := 0.0
	for i := range s.run.Shots {
		a = math.Max(a, s.accel(i))
	}
	c := []float64{s.best.cov[0], s.best.cov[1], s.best.cov[p+1]}
	t := s.best.t
	return func(v, d float64) (mean, u float64) {
		tau := lag + d
		slope := v + a*tau
		return trip + v*tau + a*(tau*tau+t)/2, math.Sqrt(math.Max(slope*slope*c[0]+2*slope*c[1]+c[2], 0))
	}
}
