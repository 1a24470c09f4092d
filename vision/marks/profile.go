package marks

import (
	"math"

	"leadmark/fit/stat"
	"leadmark/vision/marks/tiles"
)

// newProfile filters a profile for marks at the group's pitch.
func newProfile(s *strip, raw []float64, g *tiles.Group) *profile {
	tr := &profile{s: s, raw: raw, noise: noiseOf(raw)}
	high := s.lessLocal(raw, g, 0.5)
	tr.skew = skew(s, high, g)
	tr.dark = tr.skew < 0
	if tr.dark {
		for i := range high {
			high[i] = -high[i]
		}
	}
	tr.sigma = max(smoothing*g.Pitch0/s.step, leastSmooth)
	tr.smooth = gauss(high, tr.sigma)
	return tr
}

// lessLocal is a profile less its mean over so many of the group's pitches to either side.
func (s *strip) lessLocal(raw []float64, g *tiles.Group, pitches float64) []float64 {
	out := make([]float64, len(raw))
	sum, there := cumulate(raw), cumulate(seen(raw))
	for i := range raw {
		half := pitches * g.Pitch(s.t(i)) / s.step
		a, b := float64(i)-half, float64(i)+half
		out[i] = raw[i] - meanOver(sum, a, b)/meanOver(there, a, b)
	}
	return out
}

// seen is 1 where a profile has a value and 0 where it has none.
func seen(v []float64) []float64 {
	out := make([]float64, len(v))
	for i, x := range v {
		if x == x {
			out[i] = 1
		}
	}
	return out
}

// cumulate returns running sums for meanOver. A NaN counts as nothing: who may meet one, at the
// picture's border, must look for it.
func cumulate(v []float64) []float64 {
	out := make([]float64, len(v)+1)
	for i, x := range v {
		out[i+1] = out[i] + x
		if x != x {
			out[i+1] = out[i]
		}
	}
	return out
}

// noiseOfRows estimates the noise of the profile of rows j0 to j1 from the difference between rows
// two apart, which show the same marks: half its variance is that of one row.
func (f *finding) noiseOfRows(j0, j1 int) float64 {
	var d []float64
	for j := j0; j+2 <= j1; j++ {
		a, b := f.s.profile(j, j, f.q.mid(), f.q.lean), f.s.profile(j+2, j+2, f.q.mid(), f.q.lean)
		for i := range a {
			if x := math.Abs(a[i] - b[i]); x == x {
				d = append(d, x)
			}
		}
	}
	if len(d) == 0 {
		return math.Inf(1)
	}
	return stat.RobustSD(d) / math.Sqrt(2*float64(j1-j0+1))
}

// meanOver is the mean of the samples from a to b, their ends counted in part.
func meanOver(sum []float64, a, b float64) float64 {
	at := func(x float64) float64 {
		x = max(0, min(float64(len(sum)-1), x))
		i := min(int(x), len(sum)-2)
		return sum[i] + (x-float64(i))*(sum[i+1]-sum[i])
	}
	a, b = max(0, a+0.5), min(float64(len(sum)-1), b+0.5)
	if b <= a || len(sum) < 2 {
		return math.NaN()
	}
	return (at(b) - at(a)) / (b - a)
}

// skew is the third moment over the group's part of the profile: marks are narrower than the
// gaps between them, so they are the tail.
func skew(s *strip, high []float64, g *tiles.Group) float64 {
	i0, i1 := max(0, int(s.col(g.T0))), min(len(high)-1, int(s.col(g.T1)))
	var m2, m3 float64
	n := 0
	for i := i0; i <= i1; i++ {
		if v := high[i]; v == v {
			m2 += v * v
			m3 += v * v * v
			n++
		}
	}
	if n == 0 || m2 == 0 {
		return 0
	}
	return m3 / float64(n) / math.Pow(m2/float64(n), 1.5)
}

// gauss smooths with a Gaussian cut off at some sigma. Where the profile ends within that, what is
// there counts alone, as long as it reaches over the kernel's middle; else the value is NaN.
func gauss(v []float64, sigma float64) []float64 {
	r, core := int(math.Ceil(kernelReach*sigma)), int(math.Ceil(kernelCore*sigma))
	k := make([]float64, 2*r+1)
	for i := range k {
		k[i] = math.Exp(-0.5 * math.Pow(float64(i-r)/sigma, 2))
	}
	out := make([]float64, len(v))
	for i := range out {
		if i < core || i+core >= len(v) {
			out[i] = math.NaN()
			continue
		}
		var sum, weight float64
		for j := max(0, i-r); j <= min(len(v)-1, i+r); j++ {
			x := v[j]
			if x == x {
				sum, weight = sum+k[j-i+r]*x, weight+k[j-i+r]
			} else if j >= i-core && j <= i+core {
				weight = math.NaN()
				break
			}
		}
		out[i] = sum / weight
	}
	return out
}

// noiseOf estimates the noise of a profile from its third differences, in which a smooth
// profile all but vanishes (their variance is 20 times the noise's).
func noiseOf(v []float64) float64 {
	var d []float64
	for i := 3; i < len(v); i++ {
		if x := math.Abs(v[i] - 3*v[i-1] + 3*v[i-2] - v[i-3]); x == x {
			d = append(d, x)
		}
	}
	return stat.RobustSD(d) / math.Sqrt(20)
}

// top returns the highest local maximum of the smoothed profile within reach of t, placed
// between samples by a parabola; ok is false where there is none.
func (tr *profile) top(t, reach float64) (at, height float64, ok bool) {
	c, r := tr.s.col(t), reach/tr.s.step
	i0, i1 := max(1, int(math.Ceil(c-r))), min(len(tr.smooth)-2, int(math.Floor(c+r)))
	best := math.Inf(-1)
	for i := i0; i <= i1; i++ {
		a, b, d := tr.smooth[i-1], tr.smooth[i], tr.smooth[i+1]
		if !(b >= a && b > d) || b <= best {
			continue
		}
		best = b
		den := a - 2*b + d
		off := 0.0
		if den < 0 {
			off = 0.5 * (a - d) / den
		}
		at, height, ok = tr.s.t(i)+off*tr.s.step, b-0.25*(a-d)*off, true
	}
	return at, height, ok
}

// uncertainty is the standard uncertainty of a top's place that the noise leaves: noise of the
// filtered slope over the top's curvature.
func (tr *profile) uncertainty(t float64) float64 {
	i := int(math.Round(tr.s.col(t)))
	if i < 1 || i >= len(tr.smooth)-1 {
		return math.NaN()
	}
	curve := -(tr.smooth[i-1] - 2*tr.smooth[i] + tr.smooth[i+1])
	if !(curve > 0) {
		return math.NaN()
	}
	// For a unit-sum Gaussian of s.d. sigma, the slope of white noise has variance
	// noise^2 / (4 sqrt(pi) sigma^3).
	slope := tr.noise / math.Sqrt(4*math.Sqrt(math.Pi)*math.Pow(tr.sigma, 3))
	return slope / curve * tr.s.step
}
