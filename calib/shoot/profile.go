package shoot

import (
	"math"

	"leadmark/fit/stat"
)

// profile is the log likelihood of a normal law's mean, the standard deviation maximised out.
type profile struct {
	likelihood func(mean, sd float64) float64
	scale      float64 // about the size of what is sought
	from, to   float64 // where the mean is sought
	least      float64 // below which it cannot lie
}

// interval is the likeliest mean and its 95 % interval: where twice the log likelihood falls by n
// log(1 + t^2/(n-1)) at most, t Student's 97.5 % quantile.
func (p *profile) interval(n float64) (mean float64, ends [2]float64) {
	mean, best := p.peak()
	t := student(n)
	fall := n * math.Log1p(t*t/(n-1)) / 2
	for i, way := range []float64{-1, 1} {
		ends[i] = p.end(mean, best-fall, way)
	}
	return mean, ends
}

// at is the log likelihood at a mean.
func (p *profile) at(mean float64) float64 { return p.likelihood(mean, p.sd(mean)) }

// sd is the likeliest standard deviation for a mean: searched on a log scale between 0.3 % and ten
// times the scale, by golden section about the best of a coarse grid.
func (p *profile) sd(mean float64) float64 {
	at := func(q float64) float64 { return p.likelihood(mean, p.scale*math.Exp(q)) }
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

// peak is the likeliest mean and its log likelihood.
func (p *profile) peak() (mean, value float64) {
	const steps = 24
	step := (p.to - p.from) / steps
	best, top := p.from, math.Inf(-1)
	for i := range steps + 1 {
		m := p.from + step*float64(i)
		if v := p.at(m); v > top {
			best, top = m, v
		}
	}
	mean = golden(p.at, max(p.least, best-step), best+step, 1e-5*p.scale)
	return mean, p.at(mean)
}

// end is where the profile falls to a value, on one side of its peak.
func (p *profile) end(mean, value, way float64) float64 {
	in, step := mean, 0.05*p.scale
	for range 60 {
		next := max(in+way*step, p.least)
		if p.at(next) < value {
			return p.between(in, next, value)
		}
		if next <= p.least {
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

// student is Student's 97.5 % quantile for n values.
func student(n float64) float64 { return stat.T95(n - 1) }
