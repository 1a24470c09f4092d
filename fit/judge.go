package fit

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// plainDF is the degrees of freedom from which the t law needs no exact check.
const plainDF = 80

// solution is the fit of a run with its verdict on every shot.
type solution struct {
	*linear
	best   point
	odd    []bool
	chance []float64 // probability of a good shot lying as far off, or farther
	off    []float64 // residual from the fit of the others, in standard deviations
}

// judge fits with the odd shots left out (or weighed, when weight is given).
func (l *layout) judge(theta []float64, odd []bool, weight []float64) *solution {
	if weight == nil {
		weight = make([]float64, len(odd))
		for i := range weight {
			if !odd[i] {
				weight[i] = 1
			}
		}
	}
	m, best := l.solve(theta, weight)
	s := &solution{linear: m, best: best, odd: odd}
	s.chance, s.off = s.deleted()
	return s
}

// deleted gives each shot's residual from the fit of the other shots, in standard deviations, and
// the two-sided probability of one so large. For residual (Py)_i/P_ii see e.g. Christensen,
// Pearson and Johnson, Technometrics 34 (1992) 38.
func (s *solution) deleted() (chance, off []float64) {
	n, p := len(s.r), s.p
	chance, off = make([]float64, n), make([]float64, n)
	d := s.diagonal(s.best.y)
	sums := s.blockSums(d)
	wx := s.solveV(d, sums, s.x, p)
	df := math.Max(2*s.best.info, 0.5)
	for i := range off {
		r := s.r[i]
		for j := 0; j < p; j++ {
			r -= s.x[i*p+j] * s.best.step[j]
		}
		if s.weight[i] == 0 {
			own := s.best.shrink*s.known2[i] + s.best.t*s.slope2[i] + sq(s.z[i])
			off[i] = r / math.Sqrt(own+quadratic(s.best.cov, s.x[i*p:(i+1)*p]))
			chance[i] = 2 * (distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}).Survival(math.Abs(off[i]))
			continue
		}
		pii := 1/d[i] - quadratic(s.best.cov, wx[i*p:(i+1)*p])
		if b := s.block[i]; b >= 0 {
			pii -= sq(s.z[i]/d[i]) / sums[b]
		}
		if pii < 1e-9/d[i] {
			chance[i] = 1 // the only shot to tell something: nothing to hold it against
			continue
		}
		own := d[i] * s.weight[i]
		inner := s.best.wres[i] / pii / math.Sqrt(1/pii-d[i]+own)
		off[i], chance[i] = external(inner, df)
	}
	return chance, off
}

// external turns a residual studentised with its own share in the variance into one without.
func external(inner, df float64) (z, chance float64) {
	rest := df - inner*inner
	if df <= 1 || rest <= 0 {
		return inner, 1
	}
	z = inner * math.Sqrt((df-1)/rest)
	return z, 2 * (distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df - 1}).Survival(math.Abs(z))
}

// predict replaces the chance of each shot left out by its exact one: the probability, by the fit
// of the shots left and integrated over their variance, of a shot as far off.
func (s *solution) predict() []float64 {
	if 2*s.best.info > plainDF {
		return s.chance
	}
	chance := append([]float64(nil), s.chance...)
	var post *posterior
	for i, o := range s.odd {
		if !o || s.weight[i] != 0 {
			continue
		}
		if post == nil {
			post = s.integrate(s.best, yFloor)
		}
		chance[i] = 0
		x := s.x[i*s.p : (i+1)*s.p]
		for k, pt := range post.points {
			r := s.r[i]
			for j, v := range pt.step {
				r -= x[j] * v
			}
			own := pt.shrink*s.known2[i] + pt.t*s.slope2[i] + sq(s.z[i]) + quadratic(pt.cov, x)
			chance[i] += post.mass[k] * math.Erfc(math.Abs(r)/math.Sqrt(2*own))
		}
	}
	s.chance = chance
	return chance
}

// residual is what the fit leaves of shot i.
func (s *solution) residual(i int) float64 {
	r := s.r[i]
	for j, x := range s.x[i*s.p : (i+1)*s.p] {
		r -= x * s.best.step[j]
	}
	return r
}

// enough tells whether more than half of the shots are left, and one more than the free unknowns.
func (l *layout) enough(odd []bool) bool {
	kept := 0
	for _, o := range odd {
		if !o {
			kept++
		}
	}
	return 2*kept > len(odd) && kept > l.needs
}
