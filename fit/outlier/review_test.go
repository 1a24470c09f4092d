package outlier

import (
	"math/rand/v2"
	"slices"
	"testing"

	"leadmark/fit/mixed"
	"leadmark/fit/stat"
)

// line is a search in values y = a + b x with errors of 0.1, so many at each of some x.
func line(seed uint64, levels, each int, spoil func(level, i int) float64) (s *Search, start *mixed.Model,
	far []float64) {
	rng := rand.New(rand.NewPCG(seed, 7))
	var x, y []float64
	s = &Search{}
	for k := range levels {
		var batch []int
		for i := range each {
			batch = append(batch, len(y))
			x = append(x, float64(k))
			y = append(y, 2+3*float64(k)+0.1*rng.NormFloat64()+spoil(k, i))
		}
		s.Batches = append(s.Batches, batch)
	}
	model := func(theta, weight []float64) *mixed.Model {
		m := &mixed.Model{P: 2, Theta: theta, Weight: weight, Prior: []float64{0, 0}}
		for i := range y {
			m.X, m.R = append(m.X, x[i], 1), append(m.R, y[i]-theta[1]-theta[0]*x[i])
			m.Stated, m.Slope2 = append(m.Stated, 0.01), append(m.Slope2, 1)
			m.Z, m.Block = append(m.Z, 0), append(m.Block, -1)
		}
		m.Complete()
		return m
	}
	s.Solve = func(theta, weight []float64) (*mixed.Model, mixed.Point) {
		m := model(theta, weight)
		return m, m.Maximise(0)
	}
	robust := stat.LeastTrimmed(x, y, false)
	all := make([]float64, len(y))
	for i := range y {
		all[i] = 1
		far = append(far, max(y[i]-robust.A-robust.B*x[i], robust.A+robust.B*x[i]-y[i])/max(robust.Scale, 0.1))
	}
	return s, model([]float64{robust.B, robust.A}, all), far
}

func odd(f *Fit) (list []int) {
	for i, o := range f.Odd {
		if o {
			list = append(list, i)
		}
	}
	return list
}

// Two values fifteen deviations off are found, and no others; those of a clean line are left alone but
// for two runs in a hundred.
func TestFindsWhatIsOdd(t *testing.T) {
	for seed := range uint64(20) {
		s, start, far := line(seed, 4, 5, func(level, i int) float64 {
			return map[[2]int]float64{{1, 2}: 1.5, {3, 0}: -1.5}[[2]int{level, i}]
		})
		f := s.Review(start, far)
		if got := odd(f); !slices.Equal(got, []int{7, 15}) {
			t.Errorf("seed %d: odd %v", seed, got)
		}
		if f.Weight[7] != 0 || f.Weight[15] != 0 || f.Chance[7] > 1e-6 {
			t.Errorf("seed %d: weights %v, chance %g", seed, f.Weight, f.Chance[7])
		}
	}
	alarms := 0
	for seed := range uint64(200) {
		s, start, far := line(seed, 4, 5, func(int, int) float64 { return 0 })
		if len(odd(s.Review(start, far))) > 0 {
			alarms++
		}
	}
	if alarms > 4+6 { // three standard deviations above four
		t.Errorf("%d of 200 clean lines have odd values", alarms)
	}
}

// A batch noted wrongly is doubted as a whole where three others speak against it, and with fewer it
// is only said that the batches disagree.
func TestDoubtsAWholeBatch(t *testing.T) {
	wrong := func(level, _ int) float64 { return map[int]float64{2: 0.6}[level] }
	s, start, far := line(3, 5, 4, wrong)
	f := s.Review(start, far)
	if !Whole(s.Batches[2], f.Odd) || len(odd(f)) != 4 || !f.Wrong[8] || f.Wrong[0] {
		t.Errorf("odd %v, wrong %v", odd(f), f.Wrong)
	}
	s, start, far = line(3, 3, 6, wrong)
	if f := s.Review(start, far); Whole(s.Batches[2], f.Odd) || f.Disagreement(s.Batches) > BatchDoubt {
		t.Errorf("of three batches: odd %v, chance of the disagreement %g", odd(f), f.Disagreement(s.Batches))
	}
}
