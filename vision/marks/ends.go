package marks

import (
	"math"
	"sort"

	"leadmark/fit/stat"
	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
)

// crossing is the part of the strip that the ruler's body covers, row by row, sheared so that edges
// across the ruler stand upright. Edges are found in bands of a few rows, and placed row by row.
type crossing struct {
	p     pixel.Pyramid
	sides ruler.Sides // long edges of the ruler, nil where not found
	s     *strip
	rows  []int
	steps [][]float64 // step filter of each band
	tone  [][]float64 // of each band
	pitch float64     // in samples
	print span        // along, between which only bold edges are any's end: the ruler's own lines and print
	bold  float64     // grey levels from which on one is
	pivot float64
	lean  lean
}

// span is a part of the strip's width, px across, or of its length, px along.
type span struct{ from, to float64 }

// newCrossing takes the rows of a span; reach is in pitches.
func (f finding) newCrossing(p pixel.Pyramid, sides ruler.Sides, sp span, reach float64) *crossing {
	j0, j1 := f.s.row(min(sp.from, sp.to)), f.s.row(max(sp.from, sp.to))
	c := &crossing{p: p, sides: sides, s: f.s, pivot: f.q.mid(), lean: f.q.lean}
	c.pitch = f.localPitch(len(f.graduations)/2) / f.s.step
	stride := max(1, (j1-j0)/stepRows)
	for j := j0 + 1; j < j1; j += stride {
		c.rows = append(c.rows, j)
	}
	for k := 0; k+bandRows <= len(c.rows); k += bandRows {
		tone := c.averaged(c.rows[k : k+bandRows])
		c.tone = append(c.tone, tone)
		c.steps = append(c.steps, endFilter(tone, edgeGapParts*c.pitch, reach*c.pitch))
	}
	return c
}

// inner is the crossing's middle third: an end with wide round corners is straight there.
func (c *crossing) inner() *crossing {
	in := *c
	n, m := len(c.rows), len(c.steps)
	in.rows, in.steps = c.rows[n/3:n-n/3], c.steps[m/3:m-m/3]
	return &in
}

// averaged is the mean tone of some rows along the marks; NaN where any of them leaves the picture.
func (c *crossing) averaged(rows []int) []float64 {
	tone := make([]float64, c.s.nt)
	for _, j := range rows {
		for i := range tone {
			tone[i] += c.s.lineAt(j, c.s.along(i, j, c.pivot, c.lean))
		}
	}
	for i := range tone {
		tone[i] /= float64(len(rows))
	}
	return tone
}

// light is part of a row from sample lo to hi, along the marks, proportional to light.
func (c *crossing) light(row []float64, j, lo, hi int) []float64 {
	row = row[:0]
	for i := lo; i <= hi; i++ {
		row = append(row, pixel.Linear(c.s.lineAt(j, c.s.along(i, j, c.pivot, c.lean))))
	}
	return row
}

// endFilter is the mean tone over h samples after each place less that over h before it, g left
// out on both sides.
func endFilter(v []float64, g, h float64) []float64 {
	out := make([]float64, len(v))
	sum := cumulate(v)
	near, far := offsetIn(g), offsetIn(g+h)
	nearBefore, farBefore := offsetIn(-g), offsetIn(-g-h)
	reach := int(math.Ceil(g + h))
	for i := range v {
		if i-reach < 0 || i+reach >= len(v) || v[i-reach] != v[i-reach] || v[i+reach] != v[i+reach] {
			out[i] = math.NaN()
			continue
		}
		out[i] = (far.of(sum, i) - near.of(sum, i) - nearBefore.of(sum, i) + farBefore.of(sum, i)) / h
	}
	return out
}

// offset is a fixed distance from a sample, in whole samples and a part of one.
type offset struct {
	whole int
	part  float64
}

func offsetIn(x float64) offset {
	x += 0.5 // running sums count from a sample's edge
	w := math.Floor(x)
	return offset{int(w), x - w}
}

// of is the running sum at the offset from sample i.
func (o offset) of(sum []float64, i int) float64 {
	k := max(0, min(len(sum)-2, i+o.whole))
	return sum[k] + o.part*(sum[k+1]-sum[k])
}

// find returns the edges across the ruler.
func (c *crossing) find(reach float64) []ruler.Step {
	if len(c.steps) < 1 {
		return nil
	}
	med, agree := c.consensus()
	var out []ruler.Step
	r := int(math.Ceil(peakReach * reach * c.pitch))
	for i := r; i < len(med)-r; i++ {
		m := math.Abs(med[i])
		if !(m >= leastStep) || agree[i] < leastAgree || !peak(med, i, r) {
			continue
		}
		if t := c.s.t(i); t > c.print.from && t < c.print.to && m < c.bold {
			continue
		}
		if s, ok := c.place(i, med[i], placeReach*reach*c.pitch); ok {
			s.Coherent = agree[i]
			out = append(out, s)
		}
	}
	return out
}

// mergeSteps adds what b holds beyond a: steps of the same sense within a third of a pitch are
// one, and the narrower reach places it better.
func mergeSteps(a, b []ruler.Step, pitch float64) []ruler.Step {
	for _, s := range a {
		known := false
		for _, o := range b {
			if math.Abs(o.T-s.T) < pitch/sameStep && o.Contrast*s.Contrast > 0 {
				known = true
			}
		}
		if !known {
			b = append(b, s)
		}
	}
	sort.Slice(b, func(i, j int) bool { return b[i].T < b[j].T })
	return b
}

// peak says whether |v| is largest at i within r samples.
func peak(v []float64, i, r int) bool {
	m := math.Abs(v[i])
	for k := i - r; k <= i+r; k++ {
		if a := math.Abs(v[k]); a > m || (a == m && k < i) {
			return false
		}
	}
	return true
}

// consensus is, column by column, the median step of the bands and the share of bands with its
// sign and enough of its size.
func (c *crossing) consensus() (med, agree []float64) {
	n := len(c.steps[0])
	med, agree = make([]float64, n), make([]float64, n)
	var col []float64
	for i := range med {
		col = col[:0]
		sum := 0.0
		for _, s := range c.steps {
			if s[i] == s[i] {
				col = append(col, s[i])
				sum += s[i]
			}
		}
		// Where 0.6 of the bands share a step, their mean is not far below it: most columns need no
		// median.
		if 2*len(col) < len(c.steps) || math.Abs(sum) < worthMedian*leastStep*float64(len(col)) {
			continue
		}
		m := stat.Select(col, len(col)/2)
		k := 0
		for _, v := range col {
			if v*m > 0 && math.Abs(v) > bandAlike*math.Abs(m) {
				k++
			}
		}
		med[i], agree[i] = m, float64(k)/float64(len(col))
	}
	return med, agree
}

// place finds an edge to a part of a pixel in every row and fits a line through them.
func (c *crossing) place(i int, step, reach float64) (ruler.Step, bool) {
	s, ok := c.placeAlong(float64(i), 0, reach, func(int) float64 { return step })
	s.Contrast = step / 255
	return s, ok
}

// placeAlong does so along a line a + b w, which row k crosses by a step of sign(k), 0 where not.
func (c *crossing) placeAlong(a, b, reach float64, sign func(k int) float64) (ruler.Step, bool) {
	var w, t, row []float64
	for k, j := range c.rows {
		if sign(k) == 0 {
			continue
		}
		i := int(math.Round(a + b*(float64(j)-c.pivot)))
		lo, hi := max(0, i-int(math.Ceil(reach))-slopeRoom), min(c.s.nt-1, i+int(math.Ceil(reach))+slopeRoom)
		row = c.light(row, j, lo, hi)
		if x, ok := steepest(row, float64(i-lo), reach, math.Copysign(1, sign(k))); ok {
			w, t = append(w, float64(j)-c.pivot), append(t, float64(lo)+x)
		}
	}
	a, b, sd, n := robustLine(w, t, lineOff*c.pitch)
	if math.IsInf(sd, 1) {
		return ruler.Step{}, false
	}
	s := c.s
	wc := s.w0 + c.pivot*s.step
	tc := s.t0 + a*s.step
	from, to := s.w(c.rows[0])-wc, s.w(c.rows[len(c.rows)-1])-wc
	lean := b + c.lean.at(tc)
	return ruler.Step{
		T: tc,
		// Neighbouring rows share pixels and texture: count half of them as independent.
		U:       s.step * math.Hypot(sd/math.Sqrt(float64(n)/2), atBest),
		Line:    ruler.Line{A: s.place(tc+lean*from, wc+from), B: s.place(tc+lean*to, wc+to)},
		WidthPX: c.width(a, b, sign) * s.step,
	}, true
}

// width is the 10 % to 90 % width of an edge, from the second moment of the mean slope of the
// rows along the fitted line (2.563 standard deviations for a Gaussian blur); samples.
func (c *crossing) width(a, b float64, sign func(k int) float64) float64 {
	r := int(math.Ceil(0.5 * c.pitch))
	mean := make([]float64, 2*r+1)
	var row []float64
	for k, j := range c.rows {
		i := int(math.Round(a + b*(float64(j)-c.pivot)))
		if sign(k) == 0 || i-r < 1 || i+r >= c.s.nt-1 {
			continue
		}
		row = c.light(row, j, i-r-1, i+r+1)
		for d := range mean {
			if g := math.Copysign(1, sign(k)) * (row[d+2] - row[d]); g == g {
				mean[d] += g
			}
		}
	}
	top := 0.0
	for _, g := range mean {
		top = max(top, g)
	}
	var s, m, mm float64
	for d, g := range mean {
		if g > widthShare*top {
			x := float64(d - r)
			s, m, mm = s+g, m+g*x, mm+g*x*x
		}
	}
	if s == 0 {
		return 0
	}
	// The two-sample difference widens the slope by a variance of 1/3 + 1.
	v := mm/s - m*m/s/s - 1
	return 2.563 * math.Sqrt(max(leastWidth, v))
}
