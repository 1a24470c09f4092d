package fit

import (
	"math"
	"sort"

	"leadmark/fit/stat"
)

const (
	oddRun    = 0.02 // probability that a run without any odd shot has one called so
	oddFade   = 1e-3 // below oddRun's share times this a shot counts nothing, above it in part
	suspectAt = 3.0  // robust standard deviations from which a shot is looked at
	manyOdd   = 15   // suspects that are tried one by one; more are judged together
	oddShare  = 0.49 // of the shots may be odd at most
)

// review fits and finds the odd shots. Those far from the robust start are suspects; all are left
// out, then taken back from the nearest on until one does not fit the rest (a generalized extreme
// deviate test, Rosner, Technometrics 25 (1983) 165). Then shots leave or return one by one until
// verdicts and fit agree, each shot judged by the fit of the others.
func (l *layout) review() *solution {
	theta, far := l.start()
	all := make([]float64, len(far))
	for i := range all {
		all[i] = 1
	}
	m := l.linearise(theta, all, 0, nil)
	if l.needs = m.rank(); m.spare() < 1 {
		return l.judge(theta, make([]bool, len(far)), nil)
	}
	sol := l.tryBack(theta, l.suspects(far))
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
	return l.weigh(sol)
}

// suspects lists the shots to be doubted, worst first.
func (l *layout) suspects(far []float64) []int {
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
// fit the shots left. For k of n the level is shared among the choices that could have been made.
func (l *layout) tryBack(theta []float64, list []int) *solution {
	n := len(l.run.Shots)
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
			theta = sol.theta
			if sol.rank() == l.needs && sol.predict()[list[k-1]] < oddRun/choices(n, k) {
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

// weigh gives the odd shots their final weights and fits once more where that changes anything.
func (l *layout) weigh(sol *solution) *solution {
	odd := l.spareBatches(sol.odd)
	weight, partial := make([]float64, len(odd)), false
	for i := range weight {
		weight[i] = 1
		if odd[i] {
			weight[i] = partWeight(sol.chance[i], l.level())
			if l.wrong[i] {
				weight[i] = 0
			}
			partial = partial || weight[i] > 0
		}
	}
	if !partial && same(odd, sol.odd) {
		return sol
	}
	final := l.judge(sol.theta, odd, weight)
	for i, o := range odd {
		if o {
			final.chance[i], final.off[i] = sol.chance[i], sol.off[i]
		}
	}
	return final
}

// level is the probability below which a single shot is called odd.
func (l *layout) level() float64 { return oddRun / float64(len(l.run.Shots)) }

// partWeight falls from 1 at the level to 0 at oddFade of it, evenly in the logarithm.
func partWeight(chance, level float64) float64 {
	if chance <= level*oddFade {
		return 0
	}
	return math.Min(1, 1-math.Log(chance/level)/math.Log(oddFade))
}

// verdict fits anew with the odd shots that do fit taken back and the one that fits worst left out
// (all hopeless ones at once where the fit rests on many); nil when nothing changes.
func (l *layout) verdict(s *solution) *solution {
	level, next := l.level(), append([]bool(nil), s.odd...)
	chance := s.predict()
	for i := range next {
		next[i] = l.wrong[i] || s.odd[i] && chance[i] < level || s.n > 100 && s.chance[i] < level/100
	}
	if !same(next, s.odd) && l.enough(next) {
		return l.judge(s.theta, next, nil)
	}
	worst := -1
	for i := range next {
		if !s.odd[i] && s.chance[i] < 5*level && (worst < 0 || s.chance[i] < s.chance[worst] ||
			s.chance[i] == s.chance[worst] && math.Abs(s.off[i]) > math.Abs(s.off[worst])) {
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
	if trial := l.judge(s.theta, next, nil); trial.rank() == l.needs && trial.predict()[worst] < level {
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
