package fit

import (
	"math"
	"math/rand/v2"
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
	n := len(s.r)
	return &drawing{solution: s, j: j, rng: rand.New(rand.NewPCG(drawSeed, uint64(j))), gain: make([]float64, n*s.p),
		center: make([]float64, s.p), dh: make([]float64, n), dv: make([]float64, n),
		y: make([]float64, n), shared: make([]float64, s.blocks)}
}

// mixed draws at each place of the variance path as often as its probability says.
func (d *drawing) mixed(post *posterior, draws int) []float64 {
	out := make([]float64, 0, draws)
	cum := 0.0
	for i, c := range post.column(d.j, 0) {
		cum += c.Mass
		if n := int(math.Round(cum*float64(draws))) - len(out); n > 0 {
			out = d.at(post.points[i], n, out)
		}
	}
	if len(out) < draws {
		out = d.at(d.best, draws-len(out), out)
	}
	return out
}

// at draws n times with the variances of one place and appends the estimates.
func (d *drawing) at(pt point, n int, out []float64) []float64 {
	diag := d.diagonal(pt.y)
	wx := d.solveV(diag, d.blockSums(diag), d.x, d.p)
	for i := range d.r {
		copy(d.gain[i*d.p:(i+1)*d.p], times(pt.cov, wx[i*d.p:(i+1)*d.p], d.p))
	}
	start := append([]float64(nil), d.theta...)
	for k := range start {
		start[k] += pt.step[k]
	}
	for ; n > 0; n-- {
		d.inputs(pt)
		out = append(out, d.estimate(pt, start))
	}
	return out
}

// inputs draws every input about its stated value.
func (d *drawing) inputs(pt point) {
	for c, q := range d.prior {
		if d.center[c] = 0; q > 0 {
			d.center[c] = d.rng.NormFloat64() / math.Sqrt(q)
		}
	}
	for b := range d.shared {
		d.shared[b] = d.rng.NormFloat64()
	}
	for i, shot := range d.run.Shots {
		w := d.weight[i]
		if w <= 0 {
			continue
		}
		k := math.Sqrt(pt.shrink / w)
		d.y[i] = shot.Advance + k*math.Max(shot.AdvanceU, minReadU)*d.rng.NormFloat64() +
			math.Sqrt(pt.t*d.slope2[i]/w)*d.rng.NormFloat64()
		switch {
		case shot.Drop > 0:
			d.dh[i] = k * shot.DropShotU * d.rng.NormFloat64()
			if b := d.block[i]; b >= 0 {
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
func (d *drawing) estimate(pt point, start []float64) float64 {
	theta := append([]float64(nil), start...)
	step := make([]float64, d.p)
	small := 1e-6 * math.Sqrt(pt.cov[d.j*d.p+d.j])
	for turn := 0; turn < 20; turn++ {
		for k := range step {
			step[k] = 0
			for c, q := range d.prior {
				step[k] += pt.cov[k*d.p+c] * q * (d.center[c] - theta[c])
			}
		}
		for i, w := range d.weight {
			if w <= 0 {
				continue
			}
			r := d.y[i] - d.expect(theta, i, pt.t)
			for k := range step {
				step[k] += d.gain[i*d.p+k] * r
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
