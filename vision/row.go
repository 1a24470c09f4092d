package vision

import (
	"math"
	"sort"

	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
)

const (
	fewestTicks   = 8   // a shorter row is not handed on at all
	leastContrast = 1.0 // of the filtered marks, grey levels
	reachPitches  = 16  // of the fine strip, to either side of the axis
)

// finding is a row of marks with what it was found in.
type finding struct {
	s     *strip
	q     plateau
	tr    *trace
	ticks []tick
}

// findRow looks along a group's axis for its row of marks. Where the marks run on past the
// group's tiles, the longer row gives a better axis and pitch, and the search starts again with
// those.
func findRow(p pixel.Pyramid, g group) (finding, bool) {
	var f finding
	samples := float64(searchSamples)
	for pass := 0; pass < 9; pass++ {
		var ok bool
		if f, ok = lookAlong(p, g, samples, f.s); !ok {
			return f, false
		}
		if math.Abs(f.q.tilt)*(g.t1-g.t0) > 0.5*g.pitch0 {
			g.turn(f.q.tilt)
			continue
		}
		f.mark(&g)
		if k := stride(f.ticks); k > 1 {
			g.pitch0, g.slope = float64(k)*g.pitch0, float64(k)*g.slope
			continue
		}
		if len(f.ticks) >= 3 && g.widen(f.ticks) {
			continue
		}
		if samples == placeSamples {
			break
		}
		samples = placeSamples
	}
	if len(f.ticks) >= 3 {
		f.setRight(&g)
	}
	return f, len(f.ticks) >= fewestTicks && f.plain() && dense(f.ticks)
}

// plain says whether a row's marks are dark or light enough to be believed. The blocks of JPEG make rows of a grey level or so, with gaps;
// blurred marks may be no stronger, but are many, without gaps and well above the noise.
func (f *finding) plain() bool {
	const faint, many, clear, whole = 0.4, 25, 4, 0.85 // grey levels, marks, times the noise, share of marks
	h, n := medianHeight(f.ticks), len(f.ticks)
	if h >= leastContrast {
		return true
	}
	places := f.ticks[n-1].index - f.ticks[0].index + 1
	return h >= faint && n >= many && h >= clear*f.tr.noise && float64(n) >= whole*float64(places)
}

// dense says whether at least half of a row's places hold a mark, its tens alone left out.
func dense(ticks []tick) bool {
	places := 1
	for i := 1; i < len(ticks); i++ {
		if gap := ticks[i].index - ticks[i-1].index; gap != 10 {
			places += gap
		} else {
			places++
		}
	}
	return 2*len(ticks) >= places
}

// stride is how many of the assumed pitches the marks really lie apart: thin marks are strong in
// twice or three times their own rate.
func stride(ticks []tick) int {
	for _, k := range []int{3, 2} {
		n := 0
		for i := 1; i < len(ticks); i++ {
			if (ticks[i].index-ticks[i-1].index)%k == 0 {
				n++
			}
		}
		if len(ticks) > 4 && float64(n) >= 0.9*float64(len(ticks)-1) {
			return k
		}
	}
	return 1
}

// Samples that a pitch keeps, at least, where the picture has that many: while axis and pitch are still sought, and in the
// strip in which the marks are placed and measured.
const (
	searchSamples = 3.5
	placeSamples  = 7
)

// stepFor is a power of two, px, so that a pitch keeps that many samples.
func stepFor(p pixel.Pyramid, pitch, samples float64) float64 {
	return max(p.Base, math.Exp2(math.Floor(math.Log2(pitch/samples))))
}

// lookAlong samples the strip along a group's axis and finds its plateau; old is a strip that is not needed any more.
func lookAlong(p pixel.Pyramid, g group, samples float64, old *strip) (finding, bool) {
	step := stepFor(p, g.pitch0, samples)
	more := max(100*g.pitch0, 0.7*(g.t1-g.t0)) // as far as the row may go on
	f := finding{s: newStrip(p, g.origin, g.dir, stripOptions{
		step: step, reach: reachPitches * g.pitch0, from: g.t0 - more, to: g.t1 + more, old: old})}
	if f.s.nt < 16 {
		return f, false
	}
	var ok bool
	f.q, _, ok = findPlateau(f.s, &g)
	return f, ok
}

// mark finds the marks along the plateau.
func (f *finding) mark(g *group) {
	trim := (f.q.j1 - f.q.j0) / 8
	raw := f.s.profile(f.q.j0+trim, f.q.j1-trim, f.q.mid(), f.q.lean)
	f.tr = newTrace(f.s, raw, g)
	if g.pitch0 < fineMarks*f.s.step {
		f.tr.noise = min(f.tr.noise, f.noiseOfRows(f.q.j0+trim, f.q.j1-trim))
	}
	f.ticks = track(f.tr, g)
}

// widen makes the group as long as the marks found, where that is clearly longer, and takes
// its pitch from them; false where nothing is gained.
func (g *group) widen(ticks []tick) bool {
	run := steady(ticks)
	t0, t1 := run[0].t, run[len(run)-1].t
	if t1-t0 < 1.15*(g.t1-g.t0) || len(run) < fewestTicks {
		return false
	}
	t0, t1 = max(t0, g.t0-(g.t1-g.t0)), min(t1, g.t1+(g.t1-g.t0))
	g.t0, g.t1 = t0, t1
	half := len(run) / 2
	a0, b0 := lineThrough(run[:half])
	a1, b1 := lineThrough(run[half:])
	m0, m1 := meanIndex(run[:half]), meanIndex(run[half:])
	c0, c1 := a0+b0*m0, a1+b1*m1
	g.slope = (b1 - b0) / (c1 - c0)
	g.pitch0 = b0 - g.slope*c0
	return true
}

// steady returns the longest part of a row in which marks follow each other evenly.
func steady(ticks []tick) []tick {
	_, b := lineThrough(ticks)
	best, start := ticks[:1], 0
	for i := 1; i <= len(ticks); i++ {
		if i < len(ticks) {
			n := ticks[i].index - ticks[i-1].index
			d := ticks[i].t - ticks[i-1].t
			if n <= 3 && math.Abs(d/float64(n)/b-1) < 0.35 {
				continue
			}
		}
		if i-start > len(best) {
			best = ticks[start:i]
		}
		start = i
	}
	return best
}

// turn turns the axis about the group's origin.
func (g *group) turn(slope float64) { g.dir = g.dir.Add(g.dir.Perp().Mul(slope)).Unit() }

// row turns a finding into the plain value handed on.
func (f finding) row(p pixel.Pyramid, hint ruler.Hint) ruler.Row {
	s, q := f.s, f.q
	h := medianHeight(f.ticks)
	r := ruler.Row{
		Origin:     s.place(0, f.across()),
		Dir:        s.dir,
		DarkMarks:  f.tr.dark,
		HalfLength: float64(q.j1-q.j0+1) / 2 * s.step,
		Contrast:   h / 255,
		Noise:      f.tr.noise / 255,
		Tone:       f.gapTone() / 255,
	}
	up, down := f.lengths()
	side := f.bodySide(up, down)
	long := up
	if side < 0 {
		long = down
	}
	for i, k := range f.ticks {
		r.Marks = append(r.Marks, ruler.Mark{T: k.t, U: f.tr.uncertainty(k.t), Index: k.index,
			Strength: k.height / h, Length: long[i]})
	}
	f.cutShort(p, r.Marks, float64(side))
	r.Lean, r.LeanTurn, r.LeanU, r.Side = q.shear, q.turn, q.shearU, float64(side)
	r.Middle, r.MiddleTurn = f.middles(up, down)
	r.Pitch = f.localPitch(len(f.ticks) / 2)
	r.Cells = f.cells(p, side)
	f.addBody(p, &r, side, hint.Toward)
	return r
}

// cutShort tells which marks the picture's border would cut if they were of the longest, or what lies half a pitch beside them.
func (f finding) cutShort(p pixel.Pyramid, marks []ruler.Mark, side float64) {
	most := longest(marks)
	in := func(q ruler.Point) bool {
		return q.X >= 0 && q.Y >= 0 && q.X <= float64(p.WholeW-1) && q.Y <= float64(p.WholeH-1)
	}
	for i := range marks {
		m := &marks[i]
		t, beside := m.T+f.q.at(m.T)*side*most, 0.6*f.localPitch(i)
		whole := in(f.s.place(t-beside, f.across()+side*most)) && in(f.s.place(t+beside, f.across()+side*most))
		m.Cut = m.Length < most && !whole
	}
}

// across is the place of the plateau's middle across the strip, px.
func (f finding) across() float64 { return f.s.w0 + f.q.mid()*f.s.step }

// unseenBody is how far past the marks a ruler reaches, pitches, whose far edge is not found.
const unseenBody = 12

// addBody finds the ruler's long edges and, between them, the edges across it.
func (f finding) addBody(p pixel.Pyramid, r *ruler.Row, side int, toward ruler.Point) {
	near, far, blur := f.body(p, side, r.HalfLength, longest(r.Marks))
	r.SideBlur = blur
	r.Sides = ruler.Sides{near, far}
	out := float64(side)
	wa, wb := f.across()-out*r.HalfLength, f.across()+out*(r.HalfLength+unseenBody*r.Pitch)
	mid := f.ticks[len(f.ticks)/2].t
	if near != nil {
		wa = f.acrossAt(*near, mid)
	}
	if far != nil {
		wb = f.acrossAt(*far, mid)
	}
	in := math.Copysign(0.06*math.Abs(wb-wa), wb-wa) // corners are rounded
	c := f.newCrossing(p, r.Sides, span{wa + in, wb - in}, wideSight)
	r.Steps = c.find(wideSight)
	if near != nil && far != nil {
		r.Steps = mergeSteps(c.inner().find(wideSight), r.Steps, r.Pitch)
	}
	if clear := f.across() + out*longest(r.Marks); out*(wb-in-clear) >= 3*r.Pitch {
		r.Steps = mergeSteps(r.Steps, f.newCrossing(p, r.Sides, span{clear, wb - in}, narrowSight).find(narrowSight), r.Pitch)
	}
	for _, k := range likeliest(*r, toward) {
		c.sharpen(&r.Steps[k])
	}
}

// likeliest are the steps that may be the ruler's end or a band's edge and stand out most among those, the nearer the marks the
// more: placing an edge as well as it can be takes as long as finding the row, and the backdrop is full of faint ones.
func likeliest(r ruler.Row, toward ruler.Point) []int {
	const most, faint = 5, 0.15 // of the plainest
	first, last := r.Marks[0].T, r.Marks[len(r.Marks)-1].T
	plain := func(k int) float64 {
		s := r.Steps[k]
		return math.Abs(s.Contrast) * s.Coherent / (1 + 0.05*max(0, s.T-last, first-s.T)/r.Pitch)
	}
	var out []int
	for k := range r.Steps {
		if mayMatter(r, r.Steps[k], toward) {
			out = append(out, k)
		}
	}
	sort.SliceStable(out, func(a, b int) bool { return plain(out[a]) > plain(out[b]) })
	n := 0
	for n < len(out) && (n < most || plain(out[n]) > faint*plain(out[0])) {
		n++
	}
	return out[:n]
}

// mayMatter says whether a step can be the ruler's end, past the marks or little before the last, or a bold band's edge. Where it is
// known which way the end points, only that end counts.
func mayMatter(r ruler.Row, s ruler.Step, toward ruler.Point) bool {
	const before, past, bold, sure = 4, 32, 2, 0.5 // package ruler looks for the end up to 30 past the last mark
	first, last := r.Marks[0].T, r.Marks[len(r.Marks)-1].T
	way := r.Dir.Dot(toward)
	switch {
	case s.T > last+past*r.Pitch || s.T < first-past*r.Pitch:
		return false
	case s.T > first && s.T < last && math.Abs(s.Contrast) > bold*r.Contrast:
		return true
	case s.T > last-before*r.Pitch:
		return way > -sure
	case s.T < first+before*r.Pitch:
		return way < sure
	}
	return false
}

// longest is how far the longest marks run past the plateau's middle, a few odd ones left out.
func longest(marks []ruler.Mark) float64 {
	v := make([]float64, len(marks))
	for i, k := range marks {
		v[i] = k.Length
	}
	sort.Float64s(v)
	return v[len(v)*94/100]
}

// acrossAt is where a line along the ruler lies across the strip at t.
func (f finding) acrossAt(l ruler.Line, t float64) float64 {
	x, ok := l.Meet(ruler.Line{A: f.s.place(t, 0), B: f.s.place(t, 1)})
	if !ok {
		return f.across()
	}
	return f.s.dir.Cross(x.Sub(f.s.origin))
}
