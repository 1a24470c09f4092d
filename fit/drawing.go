package fit

import (
	"math"
	"math/rand/v2"

	"leadmark/fit/mixed"
)

// drawSeed is that of Propagate: the same run gives the same figures.
const drawSeed = 20271

// drawing draws a run's inputs and estimates unknown j anew from each draw.
type drawing struct {
	*solution
	j      int
	rng    *rand.Rand
	gain   []float64 // n rows of p: K = C X'V^-1, column by shot
	center []float64 // drawn centre of each prior
	dh, dv []float64 // drawn errors: of each height (m), of each speed (m/s, or relative for a group)
	y      []float64 // m, drawn readings
	shared []float64 // drawn error of each stated height, in standard uncertainties
}

func (s *solution) drawing(j int) *drawing {
	n := len(s.R)
	return &drawing{solution: s, j: j, rng: rand.New(rand.NewPCG(drawSeed, uint64(j))),
		center: make([]float64, s.P), dh: make([]float64, n), dv: make([]float64, n),
		y: make([]float64, n), shared: make([]float64, s.Blocks)}
}

// mixture draws at each place of the variance path as often as its probability says.
func (d *drawing) mixture(post *mixed.Posterior, draws int) []float64 {
	out := make([]float64, 0, draws)
	cum := 0.0
	for i, c := range post.Column(d.j, 0) {
		cum += c.Mass
		if n := int(math.Round(cum*float64(draws))) - len(out); n > 0 {
			out = d.at(post.Points[i], n, out)
		}
	}
	if len(out) < draws {
		out = d.at(d.Best, draws-len(out), out)
	}
	return out
}

// at draws n times with the variances of one place and appends the estimates.
func (d *drawing) at(pt mixed.Point, n int, out []float64) []float64 {
	d.gain = d.Gain(pt)
	start := append([]float64(nil), d.Theta...)
	for k := range start {
		start[k] += pt.Step[k]
	}
	for ; n > 0; n-- {
		d.inputs(pt)
		out = append(out, d.estimate(pt, start))
	}
	return out
}

// inputs draws every input about its stated value.
func (d *drawing) inputs(pt mixed.Point) {
	for c, q := range d.Prior {
		if d.center[c] = 0; q > 0 {
			d.center[c] = d.rng.NormFloat64() / math.Sqrt(q)
		}
	}
	for b := range d.shared {
		d.shared[b] = d.rng.NormFloat64()
	}
	for i, shot := range d.run.Shots {
		w := d.Weight[i]
		if w <= 0 {
			continue
		}
		k := math.Sqrt(pt.Shrink / w)
		d.y[i] = shot.Advance + k*math.Max(shot.AdvanceU, minReadU)*d.rng.NormFloat64() +
			math.Sqrt(pt.T*d.Slope2[i]/w)*d.rng.NormFloat64()
		switch {
		case shot.Drop > 0:
			d.dh[i] = k * shot.DropShotU * d.rng.NormFloat64()
			if b := d.Block[i]; b >= 0 {
				d.dh[i] += shot.DropU * d.shared[b]
			}
		case d.groupOf[i] >= 0:
			d.dv[i] = k * d.run.SpeedRepeat * d.rng.NormFloat64()
		default:
			d.dv[i] = k * shot.SpeedU * d.rng.NormFloat64()
		}
	}
}

// estimate solves the fit's own equations for the drawn inputs: K r + C Q (centre - unknowns) = 0,
// by steps that keep the coefficients.
func (d *drawing) estimate(pt mixed.Point, start []float64) float64 {
	theta := append([]float64(nil), start...)
	step := make([]float64, d.P)
	small := 1e-6 * math.Sqrt(pt.Cov[d.j*d.P+d.j])
	for turn := 0; turn < 20; turn++ {
		for k := range step {
			step[k] = 0
			for c, q := range d.Prior {
				step[k] += pt.Cov[k*d.P+c] * q * (d.center[c] - theta[c])
			}
		}
		for i, w := range d.Weight {
			if w <= 0 {
				continue
			}
			r := d.y[i] - d.expect(theta, i, pt.T)
			for k := range step {
				step[k] += d.gain[i*d.P+k] * r
			}
		}
		for k := range theta {
			theta[k] += step[k]
		}
		if math.Abs(step[d.j]) < small {
			break
		}
	}
	return theta[d.j]
}

// expect is the model itself, at the drawn height or speed.
func (d *drawing) expect(theta []float64, i int, t float64) float64 {
	shot := d.run.Shots[i]
	tau := theta[colLag] + shot.Delay
	switch {
	case shot.Drop > 0:
		g, h := d.run.Gravity, shot.Drop+d.dh[i]
		if d.colGrav >= 0 {
			g += d.run.GravityU * theta[d.colGrav]
		}
		if d.colCommon >= 0 {
			h += d.run.DropCommonU * theta[d.colCommon]
		}
		return theta[colTrip] + math.Sqrt(2*g*math.Max(h, 0))*tau + g*(tau*tau+t)/2
	case d.groupOf[i] >= 0:
		return theta[colTrip] + d.speed(theta, i)*(1+d.dv[i])*tau
	}
	return theta[colTrip] + (shot.Speed+d.dv[i])*tau
}
