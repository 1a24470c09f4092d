package shoot

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"leadmark/input"
	"leadmark/plan"
)

// Learned is what the frames teach of the subject's speed at the trip point.
type Learned struct {
	N, Censored     int
	Speed, SpeedSD  float64    // m/s, of the law from trip to trip
	Speed95         [2]float64 // of Speed
	MaxLikelihoodSD float64    // SpeedSD before its bias was taken out
	Heading         *Heading   // nil where heights are not known
}

// Heading is what the frames teach of the elevation.
type Heading struct {
	N             int
	Elevation, SD float64 // rad
	U             float64 // rad, standard uncertainty of Elevation
}

// fewestLeads is without how many leads seen nothing is learned.
const fewestLeads = 5

// Learn estimates the law of the speed by maximum likelihood with censored leads (Lawless, Statistical Models and Methods for Lifetime
// Data, chapter 5, from memory), the lag's spread and the heading integrated out. The interval is where twice the log likelihood,
// maximised over the standard deviation, falls by n log(1 + t^2/(n-1)) at most, t Student's 97.5 % quantile and n the leads seen: without
// censoring and spread that is exactly the textbook's t interval. The mean lag's uncertainty is added in quadrature.
//
// It returns an *input.NoResult with fewer than 5 leads seen, and for a motion that is not straight: then speed is not lead over time.
func Learn(l Leads, s plan.Subject, law plan.LagLaw, delay float64) (Learned, error) {
	out := Learned{N: len(l.Seen) + len(l.Beyond), Censored: len(l.Beyond)}
	switch {
	case s.Motion != plan.Straight:
		return out, &input.NoResult{What: fmt.Sprintf("the speed is learned for motion straight only, not for %s", s.Motion), Hint: "the leads are in shoot.json"}
	case len(l.Seen) < fewestLeads:
		return out, &input.NoResult{What: fmt.Sprintf("%d leads were seen; a speed is learned from %d or more", len(l.Seen), fewestLeads), Hint: "take more frames, or widen the field"}
	}
	p := profile{leads: l.past(s.BehindNose), factors: factors(s, law, delay)}
	p.scale = stat.Mean(p.leads.Seen, nil) / p.meanFactor()
	mean, best := p.peak()
	n := float64(len(l.Seen))
	t := distuv.StudentsT{Sigma: 1, Nu: n - 1}.Quantile(0.975)
	fall := n * math.Log1p(t*t/(n-1)) / 2
	out.Speed = mean
	out.MaxLikelihoodSD = p.sd(mean)
	out.SpeedSD = out.MaxLikelihoodSD * math.Sqrt(n/(n-1)) // as n - 1 takes the bias out of a sample's variance
	common := distuv.UnitNormal.Quantile(0.975) * mean * law.MeanU / (law.Mean + delay)
	for i, sign := range []float64{-1, 1} {
		out.Speed95[i] = max(0, mean+sign*math.Hypot(p.end(mean, best-fall, sign)-mean, common))
	}
	return out, nil
}

// past takes off the leads what the nose was past the trip point when the beam broke.
func (l Leads) past(behind float64) Leads {
	var o Leads
	for _, x := range l.Seen {
		o.Seen = append(o.Seen, x-behind)
	}
	for _, x := range l.Beyond {
		o.Beyond = append(o.Beyond, x-behind)
	}
	return o
}

// profile is the likelihood with the standard deviation maximised out.
type profile struct {
	leads   Leads
	factors []factor
	scale   float64 // m/s, about
}

func (p *profile) meanFactor() float64 {
	sum := 0.0
	for _, f := range p.factors {
		sum += f.w * f.k
	}
	return sum
}

// at is the log likelihood at a mean speed.
func (p *profile) at(mean float64) float64 {
	return p.leads.logLikelihood(p.factors, mean, p.sd(mean))
}

// sd is the likeliest standard deviation for a mean: searched on a log scale between 0.3 % and ten times the speed, by golden section
// about the best of a coarse grid.
func (p *profile) sd(mean float64) float64 {
	at := func(q float64) float64 { return p.leads.logLikelihood(p.factors, mean, p.scale*math.Exp(q)) }
	lo, hi := math.Log(0.003), math.Log(10.0)
	const steps = 12
	best, value := lo, math.Inf(-1)
	for i := range steps + 1 {
		q := lo + (hi-lo)*float64(i)/steps
		if v := at(q); v > value {
			best, value = q, v
		}
	}
	width := (hi - lo) / steps
	return p.scale * math.Exp(golden(at, math.Max(lo, best-width), math.Min(hi, best+width), 1e-4))
}

// peak is the likeliest mean speed and its log likelihood.
func (p *profile) peak() (mean, value float64) {
	lo, hi := 0.05*p.scale, 6*p.scale
	const steps = 24
	best, top := lo, math.Inf(-1)
	for i := range steps + 1 {
		m := lo * math.Pow(hi/lo, float64(i)/steps)
		if v := p.at(m); v > top {
			best, top = m, v
		}
	}
	k := math.Pow(hi/lo, 1.0/steps)
	mean = golden(p.at, best/k, best*k, 1e-5*p.scale)
	return mean, p.at(mean)
}

// end is where the profile falls to a value, on one side of its peak.
func (p *profile) end(mean, value, sign float64) float64 {
	in, step := mean, 0.05*p.scale
	for range 60 {
		next := max(in+sign*step, 1e-3*p.scale)
		if p.at(next) < value {
			return p.between(in, next, value)
		}
		if next <= 1e-3*p.scale {
			return next
		}
		in, step = next, 1.4*step
	}
	return in
}

func (p *profile) between(in, out, value float64) float64 {
	for math.Abs(out-in) > 1e-4*p.scale {
		if mid := (in + out) / 2; p.at(mid) < value {
			out = mid
		} else {
			in = mid
		}
	}
	return (in + out) / 2
}

// golden finds the largest value of a function with one peak in an interval.
func golden(f func(float64) float64, lo, hi, tol float64) float64 {
	ratio := (math.Sqrt(5) - 1) / 2
	a, b := hi-ratio*(hi-lo), lo+ratio*(hi-lo)
	fa, fb := f(a), f(b)
	for hi-lo > tol {
		if fa > fb {
			hi, b, fb = b, a, fa
			a = hi - ratio*(hi-lo)
			fa = f(a)
		} else {
			lo, a, fa = a, b, fb
			b = lo + ratio*(hi-lo)
			fb = f(b)
		}
	}
	return (lo + hi) / 2
}
