package reach

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/optimize"

	"leadmark/fit/parallel"
	"leadmark/fit/stat"
)

// Box is the box that holds the whole body at the flash with a probability.
type Box struct {
	Probability       float64
	ProbabilityU      float64 // standard error of the drawing
	Along, Up, Depth  [2]float64
	EdgeU             float64 // m, standard error of the edge that is known least
	SideView, TopView [][2]float64
}

// shape is a box that can grow: its faces stand at base + k half, k = 1 for the probability wanted.
// A face on which all trips agree has half = 0 and does not move.
type shape struct{ base, half [faces]float64 }

func (s shape) face(j int, k float64) float64 { return s.base[j] + k*s.half[j] }

// need is the smallest k at which trip i is inside; false where none is.
func (s *shape) need(d *Sample, i int) float64 {
	k := math.Inf(-1)
	for j := range s.base {
		over := d.Face[j][i] - s.base[j]
		switch {
		case s.half[j] > 0:
			k = max(k, over/s.half[j])
		case over > fixed:
			return math.Inf(1)
		}
	}
	return k
}

// fixed is below what no place is told apart, m.
const fixed = 1e-12

// needs is need for the trips from to, in the order of the sample.
func (s *shape) needs(d *Sample, from, to int, out []float64) {
	for i := range out {
		out[i] = math.Inf(-1)
	}
	for j := range s.base {
		base, inv := s.base[j], 1/s.half[j]
		column := d.Face[j][from:to]
		if s.half[j] == 0 {
			for i, x := range column {
				if x-base > fixed {
					out[i] = math.Inf(1)
				}
			}
			continue
		}
		for i, x := range column {
			out[i] = max(out[i], (x-base)*inv)
		}
	}
}

// smallest finds the box of least volume that holds a share p of the trips: of all boxes with their
// edges along the axes and alike on both sides in depth. Its shape is searched on one sample, by
// Nelder and Mead's method, and its size is then set on another, so that the search cannot flatter
// the answer.
func smallest(find, set *Sample, p float64) (Box, shape) {
	s := firstShape(find, p)
	s.search(find, p)
	k, size := s.size(set, p)
	if math.IsInf(k, 0) { // no face can move: all trips agree, or as good as all
		k, size.U = 1, 0
	}
	for j := range s.half {
		s.half[j] *= k
	}
	return s.reach(set, p, size.U/math.Max(k, 1e-12)), s
}

// firstShape gives each face the same share of the trips outside.
func firstShape(d *Sample, p float64) shape {
	var s shape
	work := make([]float64, d.Total())
	for j := range s.base {
		copy(work, d.Face[j])
		s.base[j] = stat.Select(work, len(work)/2)
		s.half[j] = stat.Select(work, int(float64(len(work))*(1-(1-p)/faces))) - s.base[j]
		if s.half[j] < 1e-9*(math.Abs(s.base[j])+1e-3) {
			s.base[j], s.half[j] = slices.Max(work), 0
		}
	}
	return s
}

// search lowers the volume at which p is held by changing the halves against each other.
func (s *shape) search(d *Sample, p float64) {
	var free []int
	for j, h := range s.half {
		if h > 0 {
			free = append(free, j)
		}
	}
	if len(free) < 2 {
		return
	}
	first, work := *s, make([]float64, d.Total())
	at := func(x []float64) shape {
		t := first
		for i, j := range free[1:] {
			t.half[j] *= math.Exp(x[i])
		}
		return t
	}
	problem := optimize.Problem{Func: func(x []float64) float64 {
		t := at(x)
		t.needs(d, 0, d.Total(), work)
		return t.logVolume(stat.Select(work, int(p*float64(len(work)))))
	}}
	r, err := optimize.Minimize(problem, make([]float64, len(free)-1),
		&optimize.Settings{FuncEvaluations: 18 * len(free),
			Converger: &optimize.FunctionConverge{Absolute: 1e-4, Iterations: 12 * len(free)}},
		&optimize.NelderMead{SimplexSize: 0.3})
	if r != nil && (err == nil || r.Status == optimize.FunctionEvaluationLimit) {
		*s = at(r.X)
	}
}

// logVolume is the log of the box's volume at k.
func (s *shape) logVolume(k float64) float64 {
	v := 0.0
	for _, side := range [][]int{{Behind, Ahead}, {Below, Above}, {Aside, Aside}} {
		v += math.Log(s.face(side[0], k) + s.face(side[1], k))
	}
	return v
}

// size is the k that holds p, and its standard error over the starts of the sequence.
func (s *shape) size(d *Sample, p float64) (k float64, u Share) {
	all := make([]float64, d.Total())
	var each [starts]float64
	parallel.Each(starts, 0, func(r int) {
		part := all[r*d.n : (r+1)*d.n]
		s.needs(d, r*d.n, (r+1)*d.n, part)
		each[r] = stat.Select(slices.Clone(part), int(p*float64(d.n)))
	})
	return stat.Quantile(all, p), overStarts(each)
}

// reach is the box at k = 1.
func (s *shape) reach(d *Sample, p, relative float64) Box {
	r := Box{Probability: p,
		Along: [2]float64{-s.face(Behind, 1), s.face(Ahead, 1)},
		Up:    [2]float64{-s.face(Below, 1), s.face(Above, 1)},
		Depth: [2]float64{-s.face(Aside, 1), s.face(Aside, 1)},
	}
	for _, h := range s.half {
		r.EdgeU = max(r.EdgeU, h*relative)
	}
	r.ProbabilityU = d.Count(func(i int) bool { return s.need(d, i) <= 1 }).U
	return r
}
