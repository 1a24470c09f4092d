package outlier

import (
	"math"
	"sort"

	"leadmark/fit/mixed"
	"leadmark/fit/stat"
)

const (
	oddRun    = 0.02 // probability that values without any odd one have one called so
	oddFade   = 1e-3 // below oddRun's share times this a value counts nothing, above it in part
	suspectAt = 3.0  // robust standard deviations from which a value is looked at
	manyOdd   = 15   // suspects that are tried one by one; more are judged together
	oddShare  = 0.49 // of the values may be odd at most
)

// Search looks for the odd values of a model.
type Search struct {
	Solve   Solver
	Batches [][]int // values made alike

	n     int
	needs int    // unknowns that all values determine
	wrong []bool // as in Fit
}

// Review fits and finds the odd values. Those far from the robust start are suspects; all are left
// out, then taken back from the nearest on until one does not fit the rest (a generalized extreme
// deviate test, Rosner, Technometrics 25 (1983) 165). Then values leave or return one by one until
// verdicts and fit agree, each judged by the fit of the others. The start is the model at the robust
// unknowns with every value counted, far how far each lies from it in robust standard deviations.
func (l *Search) Review(start *mixed.Model, far []float64) *Fit {
	l.n, l.needs, l.wrong = len(far), start.Rank(), make([]bool, len(far))
	if start.Spare() < 1 {
		return l.judge(start.Theta, make([]bool, l.n), nil)
	}
	sol := l.tryBack(start.Theta, l.suspects(far))
	if next := l.oddBatch(sol); next != nil {
		sol = next
	}
	for round := 0; round < 12; round++ {
		next := l.verdict(sol)
		if next == nil {
			break
		}
		sol = next
	}
	sol = l.weigh(sol)
	sol.Wrong = l.wrong
	return sol
}

func (l *Search) judge(start []float64, odd []bool, weight []float64) *Fit {
	return Judge(l.Solve, start, odd, weight)
}

// suspects lists the values to be doubted, worst first.
func (l *Search) suspects(far []float64) []int {
	var list []int
	at := math.Max(suspectAt, stat.NormalQuantile(1-0.25/float64(len(far))))
	for i, f := range far {
		if f > at {
			list = append(list, i)
		}
	}
	sort.SliceStable(list, func(a, b int) bool { return far[list[a]] > far[list[b]] })
	most := int(oddShare * float64(len(far)))
	return list[:min(len(list), most)]
}

// tryBack is the deviate test: the largest number of suspects of which the mildest still does not
// fit the values left. For k of n the level is shared among the choices that could have been made.
func (l *Search) tryBack(theta []float64, list []int) *Fit {
	n := l.n
	odd := make([]bool, n)
	for _, i := range list {
		odd[i] = true
	}
	if len(list) > manyOdd && l.enough(odd) {
		return l.judge(theta, odd, nil)
	}
	for k := len(list); k > 0; k-- {
		if l.enough(odd) {
			sol := l.judge(theta, odd, nil)
			theta = sol.Theta
			if sol.Rank() == l.needs && sol.predict()[list[k-1]] < oddRun/choices(n, k) {
				return sol
			}
		}
		odd[list[k-1]] = false
	}
	return l.judge(theta, odd, nil)
}

// choices grows like the number of ways to take k of n, softened as the suspects are not free to be
// any; n for one suspect.
func choices(n, k int) float64 {
	c := float64(n)
	for i := 1; i < k; i++ {
		c *= math.Max(math.Sqrt(float64(n-i)/float64(i+1)), 1)
	}
	return c
}

// weigh gives the odd values their final weights and fits once more where that changes anything.
func (l *Search) weigh(sol *Fit) *Fit {
	odd := l.spareBatches(sol.Odd)
	weight, partial := make([]float64, len(odd)), false
	for i := range weight {
		weight[i] = 1
		if odd[i] {
			weight[i] = partWeight(sol.Chance[i], l.level())
			if l.wrong[i] {
				weight[i] = 0
			}
			partial = partial || weight[i] > 0
		}
	}
	if !partial && same(odd, sol.Odd) {
		return sol
	}
	final := l.judge(sol.Theta, odd, weight)
	for i, o := range odd {
		if o {
			final.Chance[i], final.Off[i] = sol.Chance[i], sol.Off[i]
		}
	}
	return final
}

// level is the probability below which a single value is called odd.
func (l *Search) level() float64 { return oddRun / float64(l.n) }

// partWeight falls from 1 at the level to 0 at oddFade of it, evenly in the logarithm.
func partWeight(chance, level float64) float64 {
	if chance <= level*oddFade {
		return 0
	}
	return math.Min(1, 1-math.Log(chance/level)/math.Log(oddFade))
}

// verdict fits anew with the odd values that do fit taken back and the one that fits worst left out
// (all hopeless ones at once where the fit rests on many); nil when nothing changes.
func (l *Search) verdict(s *Fit) *Fit {
	level, next := l.level(), append([]bool(nil), s.Odd...)
	chance := s.predict()
	for i := range next {
		next[i] = l.wrong[i] || s.Odd[i] && chance[i] < level || s.N > 100 && s.Chance[i] < level/100
	}
	if !same(next, s.Odd) && l.enough(next) {
		return l.judge(s.Theta, next, nil)
	}
	worst := -1
	for i := range next {
		if !s.Odd[i] && s.Chance[i] < 5*level && (worst < 0 || s.Chance[i] < s.Chance[worst] ||
			s.Chance[i] == s.Chance[worst] && math.Abs(s.Off[i]) > math.Abs(s.Off[worst])) {
			worst = i
		}
	}
	if worst < 0 {
		return nil
	}
	next[worst] = true
	if !l.enough(next) {
		return nil
	}
	if trial := l.judge(s.Theta, next, nil); trial.Rank() == l.needs && trial.predict()[worst] < level {
		return trial
	}
	return nil
}

func same(a, b []bool) bool {
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// enough tells whether more than half of the values are left, and one more than the free unknowns.
func (l *Search) enough(odd []bool) bool {
	kept := 0
	for _, o := range odd {
		if !o {
			kept++
		}
	}
	return 2*kept > len(odd) && kept > l.needs
}
