package fit

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

const (
	batchDoubt = 0.002 // chance below which settings are said to disagree
	batchOdd   = 0.001 // chance, shared among the batches, below which one is called wrong
	soundLeft  = 3     // settings that must speak against a wrong one
)

// disagreement is the probability of batch means as far from the model as these, given the scatter
// within the batches: the lack-of-fit F test (Draper and Smith, Applied Regression Analysis,
// section 1.5), each mean weighed with its own variance. 1 where it cannot be tested.
func (s *solution) disagreement() float64 {
	var between, within, dfWithin, count float64
	for _, b := range batches(s.run.Shots) {
		var sum, sumR, ss, m, z float64
		for _, i := range b.shots {
			if s.odd[i] {
				continue
			}
			w := 1 / (s.best.shrink*s.known2[i] + s.best.t*s.slope2[i])
			r := s.residual(i)
			sum, sumR, ss, m, z = sum+w, sumR+w*r, ss+w*r*r, m+1, s.z[i]
		}
		if m == 0 {
			continue
		}
		between += sq(sumR/sum) / (1/sum + z*z)
		within += ss - sumR*sumR/sum
		dfWithin += m - 1
		count++
	}
	df := count - float64(s.rank())
	if df < 1 || dfWithin < 2 || within <= 0 {
		return 1
	}
	return distuv.F{D1: df, D2: dfWithin}.Survival(between / df / (within / dfWithin))
}

// oddBatch looks for one setting that was noted wrongly: left out as a whole, the others agree and
// speak against it. It returns the fit without it, or nil.
func (l *layout) oddBatch(s *solution) *solution {
	list := batches(l.run.Shots)
	if len(list) <= soundLeft || len(list) > len(s.odd)/2 || s.disagreement() > batchDoubt {
		return nil
	}
	var best *solution
	least := batchOdd / float64(len(list))
	for _, b := range list {
		odd := append([]bool(nil), s.odd...)
		for _, i := range b.shots {
			odd[i] = true
		}
		if len(b.shots) < 2 || !l.enough(odd) {
			continue
		}
		trial := l.judge(s.theta, odd, nil)
		if p := trial.predictMean(b.shots); p < least && trial.rank() == s.rank() {
			best, least = trial, p
			l.wrong = make([]bool, len(odd))
			for _, i := range b.shots {
				l.wrong[i] = true
			}
		}
	}
	return best
}

// predictMean is the probability, by the fit of the other shots, of a batch mean as far off.
func (s *solution) predictMean(shots []int) float64 {
	post := s.integrate(s.best, yFloor)
	n, chance, z := float64(len(shots)), 0.0, 0.0
	x := make([]float64, s.p)
	for _, i := range shots {
		z += s.z[i] / n
		for j := range x {
			x[j] += s.x[i*s.p+j] / n
		}
	}
	for k, pt := range post.points {
		r, own := 0.0, z*z+quadratic(pt.cov, x)
		for _, i := range shots {
			r += s.r[i] / n
			own += (pt.shrink*s.known2[i] + pt.t*s.slope2[i]) / (n * n)
		}
		for j, v := range pt.step {
			r -= x[j] * v
		}
		chance += post.mass[k] * math.Erfc(math.Abs(r)/math.Sqrt(2*own))
	}
	return chance
}

// spareBatches takes a whole batch back in unless three other conditions speak against it: with
// fewer it cannot be told which of them was noted wrongly.
func (l *layout) spareBatches(odd []bool) []bool {
	out := append([]bool(nil), odd...)
	list := batches(l.run.Shots)
	sound := 0
	for _, b := range list {
		if !b.whole(odd) {
			sound++
		}
	}
	for _, b := range list {
		if b.whole(odd) && sound < 3 {
			for _, i := range b.shots {
				out[i] = false
			}
		}
	}
	return out
}
