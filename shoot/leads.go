package shoot

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"leadmark/plan"
)

// Leads are how far noses were past the trip point, along: those seen, and for animals that had left the field by the flash how far
// they had come at least. Such a frame is not missing: it says that the animal was fast.
type Leads struct {
	Seen   []float64 // m
	Beyond []float64 // m
}

// factor is a time along by which a speed turns into a lead, and how often it is met.
type factor struct{ k, w float64 }

// Numbers of lags and of headings that stand for their laws.
const (
	lagNodes     = 9
	headingNodes = 3
)

// factors are the values of tau cos e cos a, by equal shares of the lag's law from shot to shot and of the headings'. The mean lag's
// own uncertainty is common to all frames and is no part of it.
func factors(s plan.Subject, law plan.LagLaw, delay float64) []factor {
	var cosines []float64
	const grid = 15
	for i := range grid {
		for j := range grid {
			e := s.Elevation + s.ElevationSD*normalAt(i, grid)
			cosines = append(cosines, math.Cos(e)*math.Cos(s.AzimuthSD*normalAt(j, grid)))
		}
	}
	slices.Sort(cosines)
	var all []factor
	for i := range lagNodes {
		tau := max(law.Mean+law.Spread*normalAt(i, lagNodes), 0.05*law.Mean) + delay
		for j := range headingNodes {
			part := cosines[j*len(cosines)/headingNodes : (j+1)*len(cosines)/headingNodes]
			mean := 0.0
			for _, c := range part {
				mean += c / float64(len(part))
			}
			all = append(all, factor{max(tau*mean, 1e-3*tau), 1.0 / (lagNodes * headingNodes)})
		}
	}
	return all
}

// normalAt is the standard normal deviate in the middle of part i of n equal shares, stretched so that all n together have the
// variance 1.
func normalAt(i, n int) float64 {
	z := func(i int) float64 { return distuv.UnitNormal.Quantile((float64(i) + 0.5) / float64(n)) }
	ss := 0.0
	for k := range n {
		ss += z(k) * z(k)
	}
	return z(i) / math.Sqrt(ss/float64(n))
}

// logLikelihood is that of a speed law, normal and cut off at zero, given leads: a seen lead x has the density
// E[phi((x/k - mean)/sd)/(sd k)], one beyond X the chance E[1 - Phi((X/k - mean)/sd)], over k = tau cos e cos a.
func (l Leads) logLikelihood(f []factor, mean, sd float64) float64 {
	sum := 0.0
	for _, x := range l.Seen {
		p := 0.0
		for _, q := range f {
			z := (x/q.k - mean) / sd
			p += q.w * math.Exp(-z*z/2) / q.k
		}
		sum += math.Log(max(p, 1e-300) / (sd * math.Sqrt(2*math.Pi)))
	}
	for _, x := range l.Beyond {
		p := 0.0
		for _, q := range f {
			p += q.w * math.Erfc((x/q.k-mean)/(sd*math.Sqrt2)) / 2
		}
		sum += math.Log(max(p, 1e-300))
	}
	moving := math.Erfc(-mean/(sd*math.Sqrt2)) / 2
	return sum - float64(len(l.Seen)+len(l.Beyond))*math.Log(max(moving, 1e-300))
}
