package edge

import (
	"math"
	"slices"

	"leadmark/fit/stat"
)

// farSlope is the light's relative slope beyond the pixels of the fit, on the brighter side, with
// its standard uncertainty; 0 where that cannot be told.
func (f *pieces) farSlope() (slope, u float64) {
	var all, rough []float64
	half := f.half()
	for _, p := range f.list {
		if !p.ok {
			continue
		}
		way := 1.0
		if p.lo > p.hi {
			way = -1
		}
		p.samples = nil // the fit's stay as they are
		f.gatherFrom(&p, way*(half+farReach/2), farReach/2)
		noise := f.hi / (p.hi * p.hi)
		if way < 0 {
			noise = f.lo / (p.lo * p.lo)
		}
		if b, v, ok := relativeSlope(p.samples); ok && v < bent*noise {
			all, rough = append(all, b), append(rough, v)
		}
	}
	all = evenest(all, rough)
	if len(all) < fewPieces {
		return 0, 0
	}
	return middling(all)
}

// evenest are the values whose roughness is about that of the evenest quarter: the others have
// print in them.
func evenest(all, rough []float64) []float64 {
	if len(rough) == 0 {
		return nil
	}
	least := slices.Sorted(slices.Values(rough))[len(rough)/4]
	var out []float64
	for i, v := range rough {
		if v <= aboutEven*least {
			out = append(out, all[i])
		}
	}
	return out
}

// relativeSlope is the slope of a straight line through the light over its mean, and the mean
// square of the relative residuals.
func relativeSlope(q []edgeSample) (slope, rough float64, ok bool) {
	var n, s, l, ss, sl, ll float64
	for _, x := range q {
		n, s, l, ss, sl, ll = n+1, s+x.s, l+x.light, ss+x.s*x.s, sl+x.s*x.light, ll+x.light*x.light
	}
	den := ss - s*s/max(1, n)
	if !(den > 0) || !(l > 0) {
		return 0, 0, false
	}
	b, mean := (sl-s*l/n)/den, l/n
	return b / mean, max(0, ll-n*mean*mean-b*b*den) / n / (mean * mean), true
}

// middling is the mean of the values that lie about their median as most do, with its standard
// uncertainty.
func middling(v []float64) (mean, u float64) {
	m := stat.Median(v)
	sd := spreadAbout(v, m)
	var all moments
	for _, x := range v {
		if math.Abs(x-m) <= aboutMedian*sd {
			all.add(x)
		}
	}
	mean, _ = all.mean()
	return mean, sd / math.Sqrt(max(1, all.n))
}

// spreadAbout is the standard deviation about m by the median distance from it.
func spreadAbout(v []float64, m float64) float64 {
	d := make([]float64, len(v))
	for i, x := range v {
		d[i] = math.Abs(x - m)
	}
	return stat.RobustSD(d)
}
