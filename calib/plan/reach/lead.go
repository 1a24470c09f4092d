package reach

import (
	"math"

	"leadmark/fit/stat"
)

// Lead is how far the nose is past the trip point at the flash, along.
type Lead struct {
	Mean, MeanU float64 // and the standard error of its drawing
	SD          float64
	Interval95  [2]float64
}

// Lead sums up the places of the nose.
func (s *Sample) Lead() Lead {
	var each [starts]float64
	for r := range each {
		for _, x := range s.nose[r*s.n : (r+1)*s.n] {
			each[r] += x / float64(s.n)
		}
	}
	m := overStarts(each)
	l := Lead{Mean: m.P, MeanU: m.U}
	for _, x := range s.nose {
		l.SD += (x - l.Mean) * (x - l.Mean)
	}
	l.SD = math.Sqrt(l.SD / float64(s.Total()-1))
	work := append([]float64{}, s.nose...)
	n := float64(len(work))
	l.Interval95 = [2]float64{stat.Select(work, int(0.025*n)), stat.Select(work, int(0.975*n))}
	return l
}
