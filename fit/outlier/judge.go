package outlier

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"leadmark/fit/mixed"
)

// PlainDF is the degrees of freedom from which the t law needs no exact check.
const PlainDF = 80

// Fit is a fitted model with its verdict on every value.
type Fit struct {
	*mixed.Model
	Best   mixed.Point
	Odd    []bool
	Chance []float64 // probability of a good value lying as far off, or farther
	Off    []float64 // residual from the fit of the others, in standard deviations
	Wrong  []bool    // values of a batch noted wrongly: judged as a batch, not one by one
}

// Solver fits the unknowns from a start, each value with its weight.
type Solver func(start, weight []float64) (*mixed.Model, mixed.Point)

// Judge fits with the odd values left out (or weighed, when weight is given).
func Judge(solve Solver, start []float64, odd []bool, weight []float64) *Fit {
	if weight == nil {
		weight = make([]float64, len(odd))
		for i := range weight {
			if !odd[i] {
				weight[i] = 1
			}
		}
	}
	m, best := solve(start, weight)
	s := &Fit{Model: m, Best: best, Odd: odd, Wrong: make([]bool, len(odd))}
	s.Chance, s.Off = s.deleted()
	return s
}

// deleted gives each value's residual from the fit of the others, in standard deviations, and
// the two-sided probability of one so large: (Py)_i/P_ii.
func (s *Fit) deleted() (chance, off []float64) {
	n, p := len(s.R), s.P
	chance, off = make([]float64, n), make([]float64, n)
	d := s.Diagonal(s.Best.Y)
	precision := s.Precision(s.Best)
	df := math.Max(2*s.Best.Info, 0.5)
	for i := range off {
		r := s.R[i]
		for j := 0; j < p; j++ {
			r -= s.X[i*p+j] * s.Best.Step[j]
		}
		if s.Weight[i] == 0 {
			own := s.Best.Shrink*s.Stated[i] + s.Best.T*s.Slope2[i] + s.Z[i]*s.Z[i]
			off[i] = r / math.Sqrt(own+mixed.Quadratic(s.Best.Cov, s.X[i*p:(i+1)*p]))
			chance[i] = 2 * (distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}).Survival(math.Abs(off[i]))
			continue
		}
		pii := precision[i]
		if pii < 1e-9/d[i] {
			chance[i] = 1 // the only value to tell something: nothing to hold it against
			continue
		}
		own := d[i] * s.Weight[i]
		inner := s.Best.WRes[i] / pii / math.Sqrt(1/pii-d[i]+own)
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

// predict replaces the chance of each value left out by its exact one: the probability, by the fit
// of the values left and integrated over their variance, of a value as far off.
func (s *Fit) predict() []float64 {
	if 2*s.Best.Info > PlainDF {
		return s.Chance
	}
	chance := append([]float64(nil), s.Chance...)
	var post *mixed.Posterior
	for i, o := range s.Odd {
		if !o || s.Weight[i] != 0 {
			continue
		}
		if post == nil {
			post = s.Integrate(s.Best, mixed.Floor)
		}
		chance[i] = 0
		x := s.X[i*s.P : (i+1)*s.P]
		for k, pt := range post.Points {
			r := s.R[i]
			for j, v := range pt.Step {
				r -= x[j] * v
			}
			own := pt.Shrink*s.Stated[i] + pt.T*s.Slope2[i] + s.Z[i]*s.Z[i] + mixed.Quadratic(pt.Cov, x)
			chance[i] += post.Mass[k] * math.Erfc(math.Abs(r)/math.Sqrt(2*own))
		}
	}
	s.Chance = chance
	return chance
}

// Residual is what the fit leaves of value i.
func (s *Fit) Residual(i int) float64 {
	r := s.R[i]
	for j, x := range s.X[i*s.P : (i+1)*s.P] {
		r -= x * s.Best.Step[j]
	}
	return r
}
