package marks

import (
	"leadmark/fit/stat"
	"leadmark/vision/ruler"
)

// finding is a row of marks with what it was found in.
type finding struct {
	s           *strip
	q           band
	tr          *profile
	graduations []graduation
}

// across is the place of the band's middle across the strip, px.
func (f finding) across() float64 { return f.s.w0 + f.q.mid()*f.s.step }

// localPitch is the distance to the neighbours of graduation i, px.
func (f finding) localPitch(i int) float64 {
	a, b := max(0, i-pitchReach), min(len(f.graduations)-1, i+pitchReach)
	return (f.graduations[b].t - f.graduations[a].t) / float64(f.graduations[b].index-f.graduations[a].index)
}

// acrossAt is where a line along the ruler lies across the strip at t.
func (f finding) acrossAt(l ruler.Line, t float64) float64 {
	x, ok := l.Meet(ruler.Line{A: f.s.place(t, 0), B: f.s.place(t, 1)})
	if !ok {
		return f.across()
	}
	return f.s.dir.Cross(x.Sub(f.s.origin))
}

// band is the part of a strip where all marks of a row can be seen: the length of the
// shortest ones.
type band struct {
	j0, j1 int     // first and last row of the strip
	lean           // of the marks
	tilt   float64 // slope of the row against the strip's axis, px across per px along
	power  float64
}

func (q band) mid() float64 { return float64(q.j0+q.j1) / 2 }

// profile is the profile along a row of marks, made ready for finding them: local light taken
// off, marks positive, smoothed to a part of the pitch.
type profile struct {
	s      *strip
	raw    []float64 // mean grey along the marks
	smooth []float64 // filtered; NaN where it cannot be had
	dark   bool      // the marks are dark
	skew   float64   // of the profile: how much narrower marks are than gaps
	noise  float64   // s.d. of the raw profile from sample to sample
	sigma  float64   // of the smoothing, in samples
}

// graduation is one graduation found along a profile.
type graduation struct {
	index  int
	t      float64 // px along the axis
	height float64 // of the filtered profile, grey levels
}

func medianHeight(graduations []graduation) float64 {
	h := make([]float64, len(graduations))
	for i, q := range graduations {
		h[i] = q.height
	}
	return stat.Median(h)
}

func meanIndex(graduations []graduation) float64 {
	var s float64
	for _, q := range graduations {
		s += float64(q.index)
	}
	return s / float64(len(graduations))
}

// lineThrough fits t = a + b index by least squares.
func lineThrough(graduations []graduation) (a, b float64) {
	m := meanIndex(graduations)
	var st, sxx, sxt float64
	for _, q := range graduations {
		x := float64(q.index) - m
		st += q.t
		sxx += x * x
		sxt += x * q.t
	}
	b = sxt / sxx
	return st/float64(len(graduations)) - b*m, b
}
