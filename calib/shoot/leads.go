package shoot

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/subject"
)

// Leads are how far noses were past the trip point, along: those seen, and for animals that had
// left the field by the flash how far they had come at least. Such a frame is not missing: it says
// that the animal was fast.
type Leads struct {
	Seen   []float64 // m
	Beyond []float64 // m
	Gone   int       // animals of which nothing was left in the field
	Field  Field     // that they had left
}

// Field is what the picture holds, as seen from the trip point; m. A heading from the trip point
// leads out of it in front, above or below.
type Field struct {
	End    float64 // in front, along the travel
	Top    float64 // above the middle of the opening; +Inf where heights are not known
	Bottom float64 // below it, and so below 0; -Inf where they are not known
	Body   float64 // an animal's length: it is gone when its tail is out
}

// exit is how far an animal of elevation e has to come until its nose is out.
func (f Field) exit(e float64) float64 {
	d := f.End / math.Cos(e)
	switch sin := math.Sin(e); {
	case math.Cos(e) <= 0:
		return math.Inf(1) // it flies back
	case sin > 0:
		d = min(d, f.Top/sin)
	case sin < 0:
		d = min(d, f.Bottom/sin)
	}
	return d
}

// factor is a time along by which a speed turns into a lead, and how often it is met.
type factor struct{ k, w float64 }

// Numbers of lags and of headings that stand for their laws.
const (
	lagNodes     = 9
	headingNodes = 3
)

// factors are the values of tau cos e cos a, by equal shares of the lag's law from shot to shot and
// of the headings'. The mean lag's own uncertainty is common to all frames and is no part of it.
func factors(s subject.Subject, law predict.Law, delay float64) []factor {
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

// goneSpeeds are the speeds from which on nothing of an animal is left in the field, by equal
// shares of the lags and of the elevations.
func (f Field) goneSpeeds(s subject.Subject, law predict.Law, delay float64) []factor {
	var all []factor
	const grid = 15
	for i := range lagNodes {
		tau := max(law.Mean+law.Spread*normalAt(i, lagNodes), 0.05*law.Mean) + delay
		for j := range grid {
			all = append(all, factor{(f.exit(s.Elevation+s.ElevationSD*normalAt(j, grid)) + f.Body -
				s.BehindNose) / tau, 1.0 / (lagNodes * grid)})
		}
	}
	return all
}

// faster is the share of animals above a speed drawn from several.
func faster(speeds []factor, mean, sd float64) float64 {
	p := 0.0
	for _, q := range speeds {
		p += q.w * math.Erfc((q.k-mean)/(sd*math.Sqrt2)) / 2
	}
	return p
}

// normalAt is the standard normal deviate in the middle of part i of n equal shares, stretched so
// that all n together have the variance 1.
func normalAt(i, n int) float64 {
	z := func(i int) float64 { return distuv.UnitNormal.Quantile((float64(i) + 0.5) / float64(n)) }
	ss := 0.0
	for k := range n {
		ss += z(k) * z(k)
	}
	return z(i) / math.Sqrt(ss/float64(n))
}

// logLikelihood is that of a speed law, normal and cut off at zero, given leads: a seen lead x has
// the density E[phi((x/k - mean)/sd)/(sd k)], one beyond X the chance E[1 - Phi((X/k - mean)/sd)],
// over k = tau cos e cos a, and one that is gone that of being faster than it takes.
func (l Leads) logLikelihood(f, gone []factor, mean, sd float64) float64 {
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
	if l.Gone > 0 {
		sum += float64(l.Gone) * math.Log(max(faster(gone, mean, sd), 1e-300))
	}
	moving := math.Erfc(-mean/(sd*math.Sqrt2)) / 2
	return sum - float64(len(l.Seen)+len(l.Beyond)+l.Gone)*math.Log(max(moving, 1e-300))
}

// fewestLeads is without how many leads seen nothing is learned.
const fewestLeads = 5
