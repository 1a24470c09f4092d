package reach

import (
	"math"
	"math/rand/v2"

	"leadmark/fit/parallel"
	"leadmark/fit/stat"
)

// starts is how many times the sequence begins anew, at a random place: their scatter is the error.
const starts = 16

// Sample is many trips: how far each body reaches on the faces of a box, and what else is asked of
// it.
type Sample struct {
	n    int              // trips of one start; the trips of start r are r*n to (r+1)*n
	Face [faces][]float64 // how far the body reaches, by the face: Behind to Aside
	nose []float64        // along
	Near []float64        // how far the body reaches toward the camera
	Far  []float64        // and away from it, as a depth
	Mid  []float64        // depth of the nose
	Pace []float64        // speed across the view
}

// The faces of a box, each counted outward: behind is minus the smallest place along, and so on.
// Both sides in depth count as one, since trips to the left and the right of the mean heading are
// alike.
const (
	Behind = iota
	Ahead
	Below
	Above
	Aside
	faces
)

// Total is how many trips there are.
func (s *Sample) Total() int { return len(s.nose) }

// Sample draws a sample of about n trips from a seed. stream keeps samples of one seed apart.
func (m *Model) Sample(n int, seed, stream uint64) *Sample {
	per := (n + starts - 1) / starts
	s := &Sample{n: per}
	for _, to := range s.columns() {
		*to = make([]float64, per*starts)
	}
	var begin [starts]sequence
	r := rand.New(rand.NewPCG(seed, stream))
	for i := range begin {
		begin[i] = newSequence(r)
	}
	parallel.Each(starts, 0, func(i int) { m.fill(s, i*per, (i+1)*per, begin[i]) })
	return s
}

func (s *Sample) columns() []*[]float64 {
	all := []*[]float64{&s.nose, &s.Near, &s.Far, &s.Mid, &s.Pace}
	for j := range s.Face {
		all = append(all, &s.Face[j])
	}
	return all
}

func (m *Model) fill(s *Sample, from, to int, q sequence) {
	for i := from; i < to; i++ {
		b := m.body(m.draw(&q))
		x, y, z := m.half(b)
		s.Face[Behind][i], s.Face[Ahead][i] = x-b.x, b.x+x
		s.Face[Below][i], s.Face[Above][i] = y-b.y, b.y+y
		s.Face[Aside][i] = math.Abs(b.z) + z
		s.nose[i], s.Mid[i] = b.noseX, b.noseZ
		s.Near[i], s.Far[i] = b.z+z, b.z-z
		s.Pace[i] = b.across
	}
}

// Share is a probability with its standard error, from the starts of the sequence.
type Share struct{ P, U float64 }

// Count is the share of trips for which is holds.
func (s *Sample) Count(is func(i int) bool) Share {
	return s.Counts(1, func(i int, yes []bool) { yes[0] = is(i) })[0]
}

// Counts are the shares of trips for which each of n things holds, looked at together.
func (s *Sample) Counts(n int, look func(i int, yes []bool)) []Share {
	var part [starts][]float64
	parallel.Each(starts, 0, func(r int) {
		yes, sum := make([]bool, n), make([]float64, n)
		for i := r * s.n; i < (r+1)*s.n; i++ {
			look(i, yes)
			for j, y := range yes {
				if y {
					sum[j]++
				}
			}
		}
		part[r] = sum
	})
	all := make([]Share, n)
	for j := range all {
		var p [starts]float64
		for r := range p {
			p[r] = part[r][j] / float64(s.n)
		}
		all[j] = overStarts(p)
	}
	return all
}

// overStarts is the mean over the starts and its standard error. The error is no less than one trip
// would make.
func overStarts(p [starts]float64) Share {
	mean, ss := 0.0, 0.0
	for _, x := range p {
		mean += x / starts
	}
	for _, x := range p {
		ss += (x - mean) * (x - mean)
	}
	return Share{mean, math.Sqrt(ss / (starts - 1) / starts)}
}

// Quantile is the value below which a share p lies, from a quarter of the trips: what it is asked
// for needs no more. The values stay in order.
func (s *Sample) Quantile(x []float64, p float64) float64 {
	x = x[:starts/4*s.n]
	return stat.Select(append([]float64{}, x...), int(p*float64(len(x))))
}
