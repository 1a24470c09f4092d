package fit

import "math"

// methodLag names the estimator in every Estimate it makes.
const methodLag = "restricted likelihood, integrated over the spread"

// estimate reports unknown j: the value at the restricted maximum, its standard uncertainty with
// Kenward and Roger's (1997) addition, Satterthwaite's degrees of freedom, and the interval of the
// mixture over the spread.
func (p *posterior) estimate(j int) *Estimate {
	v, dv := p.best.cov[j*p.p+j], p.best.dcov[j*p.p+j]
	u2 := v + math.Max(p.best.adjust[j*p.p+j], 0)/p.best.info
	mix := p.column(j, 0)
	return &Estimate{
		Value:      p.theta[j] + p.best.step[j],
		U:          math.Sqrt(u2),
		DF:         capDF(2 * v * v * p.best.info / (dv * dv)),
		Interval95: Interval{quantile(mix, 0.025), quantile(mix, 0.975)},
		Method:     methodLag,
	}
}

// manyDF stands for degrees of freedom without end: t and normal quantiles agree there to 6 digits,
// and JSON knows no infinity.
const manyDF = 1e6

func capDF(df float64) float64 {
	if !(df < manyDF) {
		return manyDF
	}
	return df
}

// nextShot is where the lag of one more shot falls with 95 % probability.
func (p *posterior) nextShot() *Interval {
	mix := p.column(colLag, 1)
	return &Interval{quantile(mix, 0.025), quantile(mix, 0.975)}
}

// spread reports the shot-to-shot standard deviation. The value is 0 when the readings scatter no
// more than their own uncertainty explains; the upper end never is.
func (p *posterior) spread() *Estimate {
	sigma := func(y float64) float64 {
		t, _ := p.path(y)
		return math.Sqrt(t)
	}
	e := &Estimate{Value: math.Sqrt(p.best.t), DF: capDF(2 * p.best.info), Method: methodLag,
		Interval95: Interval{sigma(p.place(0.025)), sigma(p.place(0.975))}}
	// With next to nothing known of the spread the mode may lie outside the middle 95 %.
	e.Interval95.Low, e.Interval95.High = math.Min(e.Interval95.Low, e.Value), math.Max(e.Interval95.High, e.Value)
	if e.Value > 0 { // d sigma = unit e^y dy / (2 sigma)
		e.U = p.unit * math.Exp(p.best.y) / (2 * e.Value * math.Sqrt(p.best.info))
	} else {
		e.U = e.Interval95.High / 2
	}
	return e
}
