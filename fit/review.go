package fit

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// A good shot is called odd with probability oddLevel; below oddGone it counts nothing, between
// the two it counts in part.
const (
	oddLevel = 0.002
	oddGone  = oddLevel / 1000
)

// solution is the fit of a run with its verdict on every shot.
type solution struct {
	*linear
	best   point
	odd    []bool
	chance []float64 // probability of a good shot lying as far off, or farther
	off    []float64 // residual from the fit of the others, in standard deviations
}

// review fits, then lets shots leave and return until the verdicts agree with the fit: each shot is
// judged by the fit of the others (externally studentised residual, Cook and Weisberg 1982).
func (l *layout) review() *solution {
	theta, odd := l.start()
	if !l.enough(odd) {
		odd = make([]bool, len(odd))
	}
	var sol *solution
	for round := 0; round < 25; round++ {
		sol = l.judge(theta, odd, nil)
		theta = sol.theta
		next := l.verdict(sol, odd)
		if same(next, odd) || !l.enough(next) {
			break
		}
		odd = next
	}
	odd = l.spareBatches(odd)
	weight := make([]float64, len(odd))
	partial := false
	for i := range weight {
		weight[i] = 1
		if odd[i] {
			weight[i] = partWeight(sol.chance[i])
			partial = partial || weight[i] > 0
		}
	}
	if !partial && same(odd, sol.odd) {
		return sol
	}
	final := l.judge(theta, odd, weight)
	if partial {
		final.chance = sol.chance
	}
	return final
}

// partWeight falls from 1 at oddLevel to 0 at oddGone, evenly in the logarithm.
func partWeight(chance float64) float64 {
	if chance <= oddGone {
		return 0
	}
	return math.Min(1, math.Log(chance/oddGone)/math.Log(oddLevel/oddGone))
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

func quadratic(c, x []float64) float64 {
	p, sum := len(x), 0.0
	for j, xj := range x {
		for k, xk := range x {
			sum += xj * xk * c[j*p+k]
		}
	}
	return sum
}

// verdict updates the odd shots. All that fit return; of those that do not, the worst leaves (all
// hopeless ones at once where the fit rests on many).
func (l *layout) verdict(s *solution, odd []bool) []bool {
	next, worst := make([]bool, len(odd)), -1
	for i := range odd {
		misfit := s.chance[i] < oddLevel
		next[i] = odd[i] && misfit || s.n > 100 && s.chance[i] < oddLevel/100
		if misfit && !odd[i] && (worst < 0 || s.chance[i] < s.chance[worst] ||
			s.chance[i] == s.chance[worst] && math.Abs(s.off[i]) > math.Abs(s.off[worst])) {
			worst = i
		}
	}
	if worst >= 0 {
		next[worst] = true
	}
	return next
}

func same(a, b []bool) bool {
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// enough tells whether more than half of the shots are left, and as many as any run needs.
func (l *layout) enough(odd []bool) bool {
	kept := 0
	for _, o := range odd {
		if !o {
			kept++
		}
	}
	return 2*kept > len(odd) && kept >= minShots
}

// why says in a sentence what is odd about shot i.
func (s *solution) why(i int, residual float64) string {
	what := "lies %.3g mm past where"
	if residual < 0 {
		what = "lies %.3g mm short of where"
	}
	text := fmt.Sprintf("the front end "+what+" the other shots put it, %.1f times what they scatter",
		1e3*math.Abs(residual), math.Abs(s.off[i]))
	if residual < 0 {
		return text + "; a trip before the ruler came, or a ruler that stuck"
	}
	return text + "; a late flash, or a wrong height or delay noted"
}
