package outlier

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"leadmark/fit/mixed"
)

const (
	// BatchDoubt is the chance below which batches are said to disagree.
	BatchDoubt = 0.002

	batchOdd  = 0.001 // chance, shared among the batches, below which one is called wrong
	soundLeft = 3     // settings that must speak against a wrong one
)

// Disagreement is the probability of batch means as far from the model as these, given the scatter
// within the batches: the lack-of-fit F test (Draper and Smith, Applied Regression Analysis,
// section 1.5), each mean weighed with its own variance. 1 where it cannot be tested.
func (s *Fit) Disagreement(batches [][]int) float64 {
	var between, within, dfWithin, count float64
	for _, b := range batches {
		var sum, sumR, ss, m, z float64
		for _, i := range b {
			if s.Odd[i] {
				continue
			}
			w := 1 / (s.Best.Shrink*s.Stated[i] + s.Best.T*s.Slope2[i])
			r := s.Residual(i)
			sum, sumR, ss, m, z = sum+w, sumR+w*r, ss+w*r*r, m+1, s.Z[i]
		}
		if m == 0 {
			continue
		}
		between += (sumR / sum) * (sumR / sum) / (1/sum + z*z)
		within += ss - sumR*sumR/sum
		dfWithin += m - 1
		count++
	}
	df := count - float64(s.Rank())
	if df < 1 || dfWithin < 2 || within <= 0 {
		return 1
	}
	return distuv.F{D1: df, D2: dfWithin}.Survival(between / df / (within / dfWithin))
}

// oddBatch looks for one batch whose setting was noted wrongly: left out as a whole, the others agree and
// speak against it. It returns the fit without it, or nil.
func (l *Search) oddBatch(s *Fit) *Fit {
	list := l.Batches
	if len(list) <= soundLeft || len(list) > len(s.Odd)/2 || s.Disagreement(list) > BatchDoubt {
		return nil
	}
	var best *Fit
	least := batchOdd / float64(len(list))
	for _, b := range list {
		odd := append([]bool(nil), s.Odd...)
		for _, i := range b {
			odd[i] = true
		}
		if len(b) < 2 || !l.enough(odd) {
			continue
		}
		trial := l.judge(s.Theta, odd, nil)
		if p := trial.predictMean(b); p < least && trial.Rank() == s.Rank() {
			best, least = trial, p
			l.wrong = make([]bool, len(odd))
			for _, i := range b {
				l.wrong[i] = true
			}
		}
	}
	return best
}

// predictMean is the probability, by the fit of the others, of a batch mean as far off.
func (s *Fit) predictMean(batch []int) float64 {
	post := s.Integrate(s.Best, mixed.Floor)
	n, chance, z := float64(len(batch)), 0.0, 0.0
	x := make([]float64, s.P)
	for _, i := range batch {
		z += s.Z[i] / n
		for j := range x {
			x[j] += s.X[i*s.P+j] / n
		}
	}
	for k, pt := range post.Points {
		r, own := 0.0, z*z+mixed.Quadratic(pt.Cov, x)
		for _, i := range batch {
			r += s.R[i] / n
			own += (pt.Shrink*s.Stated[i] + pt.T*s.Slope2[i]) / (n * n)
		}
		for j, v := range pt.Step {
			r -= x[j] * v
		}
		chance += post.Mass[k] * math.Erfc(math.Abs(r)/math.Sqrt(2*own))
	}
	return chance
}

// Whole tells whether a batch of several values is odd from end to end.
func Whole(batch []int, odd []bool) bool {
	for _, i := range batch {
		if !odd[i] {
			return false
		}
	}
	return len(batch) > 1
}

// spareBatches takes a whole batch back in unless three other conditions speak against it: with
// fewer it cannot be told which of them was noted wrongly.
func (l *Search) spareBatches(odd []bool) []bool {
	out := append([]bool(nil), odd...)
	list := l.Batches
	sound := 0
	for _, b := range list {
		if !Whole(b, odd) {
			sound++
		}
	}
	for _, b := range list {
		if Whole(b, odd) && sound < soundLeft {
			for _, i := range b {
				out[i] = false
			}
		}
	}
	return out
}
