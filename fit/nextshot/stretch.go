package nextshot

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

const (
	placesBelow = 13 // places looked at on either side of nil
	placesAbove = 24
	plainFrom   = 18 // places above nil from which nothing is stretched
	holdsAbove  = 12 // places above nil up to which the coverage is set right
	rounds      = 10
	enough      = 0.6 // hundredths, shortfall that is left alone
	boldest     = 0.2 // step of a logarithm
	roughness   = 10.0
	farness     = 0.5
	nilWeight   = 4.0
	restBelow0  = 3.0  // hundredths
	narrowest   = 0.85 // of the unknown's own interval: the next value's is never made narrower than this
	widest      = 1.6  // factor

	// hundredths: simulated runs hold so much more at nil than their calibration says, as they know
	// more than one place
	overAtNil = 0.6
)

// findStretch finds the stretch by damped Gauss-Newton steps on the shortfalls of coverage, the large
// ones counting more, with a penalty on a stretch that is rough or far from 1. Intervals stay
// monotone in the scatter and no narrower than narrowest of the unknown's own. The stretch whose worst
// shortfall is least is kept, the first that is good enough ends the search.
func (r *calibration) findStretch() {
	n := len(r.y)
	u := make([]float64, n) // logarithm of the stretch
	r.take(u)
	best, least := []float64(nil), math.Inf(1)
	for k := 0; k < rounds; k++ {
		a, g := make([]float64, n*n), make([]float64, n) // the upper half of a counts
		if worst := r.normalEquations(a, g); worst < least {
			best, least = append(best[:0], r.stretch...), worst
		}
		if least < enough || !r.step(a, g, u) {
			break
		}
	}
	r.stretch = best
}

// step moves the logarithms of the stretch; false where the equations cannot be solved.
func (r *calibration) step(a, g, u []float64) bool {
	r.damp(a, g, u)
	r.hold(a, g, u)
	var chol mat.Cholesky
	var step mat.VecDense
	if !chol.Factorize(mat.NewSymDense(len(u), a)) || chol.SolveVecTo(&step, mat.NewVecDense(len(u), g)) != nil {
		return false
	}
	for z := range u {
		u[z] += math.Max(-boldest, math.Min(boldest, step.AtVec(z)))
	}
	r.take(u)
	return true
}

// normalEquations sums the shortfalls of coverage, in hundredths, and their derivatives by the
// logarithm of the stretch. It returns the worst.
func (r *calibration) normalEquations(a, g []float64) (worst float64) {
	n := len(r.y)
	slope := make([]float64, n)
	for y := 0; y < min(r.zero+holdsAbove+8, n); y++ {
		held := 0.0
		for z, c := range r.chance[y] {
			slope[z] = 0
			if c > 1e-6 {
				x := r.stretch[z] * r.next[z] / r.total[y]
				held += c * math.Erf(x/math.Sqrt2)
				slope[z] = 100 * c * x * math.Exp(-x*x/2) * math.Sqrt(2/math.Pi)
			}
		}
		short, weight := r.shortfall(y, 100*(0.95-held))
		if y <= r.zero+holdsAbove {
			worst = math.Max(worst, math.Abs(short))
		}
		for i, si := range slope {
			if si == 0 || weight == 0 {
				continue
			}
			g[i] += weight * short * si
			for j, row := i, a[i*n:(i+1)*n]; j < n; j++ {
				row[j] += weight * si * slope[j]
			}
		}
	}
	return worst
}

// shortfall is what counts of a coverage missing at place y, in hundredths, and how much.
func (r *calibration) shortfall(y int, missing float64) (short, weight float64) {
	switch {
	case y < r.zero: // the readings are better than stated: some shortfall is left
		if short = missing - restBelow0; short <= 0 {
			return 0, 0
		}
	case y == r.zero:
		short = missing - overAtNil
		return short, nilWeight * (1 + short*short)
	default:
		short = missing
	}
	return short, 1 + short*short
}

// damp adds the penalties.
func (r *calibration) damp(a, g, u []float64) {
	bend := [3]float64{1, -2, 1}
	for z := 1; z < len(u)-1; z++ {
		d := u[z-1] - 2*u[z] + u[z+1]
		for i, ci := range bend {
			g[z-1+i] -= roughness * ci * d
			for j := i; j < 3; j++ {
				a[(z-1+i)*len(u)+z-1+j] += roughness * ci * bend[j]
			}
		}
	}
	for z, v := range u {
		a[z*len(u)+z] += farness
		g[z] -= farness * v
	}
}

// hold keeps a stretch at its bound that would leave it.
func (r *calibration) hold(a, g, u []float64) {
	for z, v := range u {
		low := v <= math.Log(r.least(z))+1e-9 || z > 0 && r.stretch[z]*r.next[z] <= r.stretch[z-1]*r.next[z-1]*(1+1e-9)
		if !(low && g[z] < 0 || v >= math.Log(widest)-1e-9 && g[z] > 0) {
			continue
		}
		for j := range u {
			a[min(z, j)*len(u)+max(z, j)] = 0
		}
		a[z*len(u)+z], g[z] = 1, 0
	}
}

// least is the bound of the stretch at place z.
func (r *calibration) least(z int) float64 { return math.Min(1, narrowest*r.own[z]/r.next[z]) }

// take has the logarithms be the stretch, within its bounds and monotone.
func (r *calibration) take(u []float64) {
	last := 0.0
	for z := range u {
		f := math.Min(math.Max(math.Exp(u[z]), r.least(z)), widest)
		r.stretch[z] = math.Max(f, last/r.next[z])
		last, u[z] = r.stretch[z]*r.next[z], math.Log(r.stretch[z])
	}
}
