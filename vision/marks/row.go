package marks

import (
	"math"
	"slices"

	"leadmark/vision/marks/tiles"
	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/scale"
)

// findRow looks along a group's axis for its row of marks. Where the marks run on past the
// group's tiles, the longer row gives a better axis and pitch, and the search starts again with
// those.
func findRow(p pixel.Pyramid, g tiles.Group) (finding, bool) {
	var f finding
	samples := float64(searchSamples)
	for pass := 0; pass < mostPasses; pass++ {
		var ok bool
		if f, ok = lookAlong(p, g, samples, f.s); !ok {
			return f, false
		}
		if math.Abs(f.q.tilt)*(g.T1-g.T0) > turnsAgain*g.Pitch0 {
			g.Turn(f.q.tilt)
			continue
		}
		f.mark(&g)
		if k := stride(f.graduations); k > 1 {
			g.Pitch0, g.Slope = float64(k)*g.Pitch0, float64(k)*g.Slope
			continue
		}
		if len(f.graduations) >= fewestGraduations && widen(&g, f.graduations) {
			continue
		}
		if samples == placeSamples {
			break
		}
		samples = placeSamples
	}
	if len(f.graduations) >= fewestTracked {
		f.setRight(&g)
		f.graduations = onScale(f.graduations)
	}
	return f, len(f.graduations) >= fewestGraduations && f.plain() && dense(f.graduations)
}

// plain says whether a row's marks are dark or light enough to be believed: the blocks of JPEG make
// rows of a grey level or so.
func (f *finding) plain() bool { return medianHeight(f.graduations) >= leastContrast }

// dense says whether at least half of a row's places hold a mark, its tens alone left out.
func dense(graduations []graduation) bool {
	places := 1
	for i := 1; i < len(graduations); i++ {
		if gap := graduations[i].index - graduations[i-1].index; gap != scale.Ten {
			places += gap
		} else {
			places++
		}
	}
	return 2*len(graduations) >= places
}

// stride is how many of the assumed pitches the marks really lie apart: thin marks are strong in
// twice or three times their own rate.
func stride(graduations []graduation) int {
	for _, k := range []int{3, 2} {
		n := 0
		for i := 1; i < len(graduations); i++ {
			if (graduations[i].index-graduations[i-1].index)%k == 0 {
				n++
			}
		}
		if len(graduations) > strideMarks && float64(n) >= stridePart*float64(len(graduations)-1) {
			return k
		}
	}
	return 1
}

// stepFor is a power of two, px, so that a pitch keeps that many samples.
func stepFor(p pixel.Pyramid, pitch, samples float64) float64 {
	return max(p.Base, math.Exp2(math.Floor(math.Log2(pitch/samples))))
}

// lookAlong samples the strip along a group's axis and finds its band; old is a strip that is not
// needed any more.
func lookAlong(p pixel.Pyramid, g tiles.Group, samples float64, old *strip) (finding, bool) {
	step := stepFor(p, g.Pitch0, samples)
	more := max(followPitches*g.Pitch0, followPart*(g.T1-g.T0)) // as far as the row may go on
	f := finding{s: newStrip(p, g.Origin, g.Dir, stripOptions{
		step: step, reach: reachPitches * g.Pitch0, from: g.T0 - more, to: g.T1 + more, old: old})}
	var ok bool
	f.q, _, ok = findBand(f.s, &g)
	return f, ok
}

// mark finds the marks along the band.
func (f *finding) mark(g *tiles.Group) {
	trim := (f.q.j1 - f.q.j0) / trimParts
	raw := f.s.profile(f.q.j0+trim, f.q.j1-trim, f.q.mid(), f.q.lean)
	f.tr = newProfile(f.s, raw, g)
	if g.Pitch0 < fineMarks*f.s.step {
		f.tr.noise = min(f.tr.noise, f.noiseOfRows(f.q.j0+trim, f.q.j1-trim))
	}
	f.graduations = track(f.tr, g)
}

// widen makes the group as long as the marks found, where that is clearly longer, and takes
// its pitch from them; false where nothing is gained.
func widen(g *tiles.Group, graduations []graduation) bool {
	run := steady(graduations)
	t0, t1 := run[0].t, run[len(run)-1].t
	if t1-t0 < longerRow*(g.T1-g.T0) || len(run) < fewestGraduations {
		return false
	}
	t0, t1 = max(t0, g.T0-(g.T1-g.T0)), min(t1, g.T1+(g.T1-g.T0))
	g.T0, g.T1 = t0, t1
	half := len(run) / 2
	a0, b0 := lineThrough(run[:half])
	a1, b1 := lineThrough(run[half:])
	m0, m1 := meanIndex(run[:half]), meanIndex(run[half:])
	c0, c1 := a0+b0*m0, a1+b1*m1
	g.Slope = (b1 - b0) / (c1 - c0)
	g.Pitch0 = b0 - g.Slope*c0
	return true
}

// steady returns the longest part of a row in which marks follow each other evenly.
func steady(graduations []graduation) []graduation {
	_, b := lineThrough(graduations)
	best, start := graduations[:1], 0
	for i := 1; i <= len(graduations); i++ {
		if i < len(graduations) {
			n := graduations[i].index - graduations[i-1].index
			d := graduations[i].t - graduations[i-1].t
			if n <= steadyGap && math.Abs(d/float64(n)/b-1) < steadyOff {
				continue
			}
		}
		if i-start > len(best) {
			best = graduations[start:i]
		}
		start = i
	}
	return best
}

// row turns a finding into the plain value handed on.
func (f finding) row(p pixel.Pyramid, hint ruler.Hint) ruler.Row {
	s, q := f.s, f.q
	h := medianHeight(f.graduations)
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
	for i, k := range f.graduations {
		r.Marks = append(r.Marks, ruler.Mark{T: k.t, U: f.tr.uncertainty(k.t), Index: k.index,
			Strength: k.height / h, Length: long[i]})
	}
	f.cutShort(p, r.Marks, float64(side))
	r.Lean, r.LeanTurn, r.LeanU, r.Side = q.shear, q.turn, q.shearU, float64(side)
	r.Middle, r.MiddleTurn = f.middles(up, down)
	r.Pitch = f.localPitch(len(f.graduations) / 2)
	r.Cells = f.cells(p, side)
	k := f.coarse(r)
	body := r
	body.Pitch /= float64(k)
	f.divided(p, k).addBody(p, &body, side, hint.Toward, mayBeRead(r, hint))
	r.Sides, r.SideBlur, r.Steps = body.Sides, body.SideBlur, body.Steps
	return r
}

// mayBeRead says whether a row has lines enough, of lengths that any ruler's order makes likelier than not: of
// fences and fabric nobody asks where they end. A row like that of other frames may have lost what tells, and
// two flashes lay one image's lines among the other's.
func mayBeRead(r ruler.Row, hint ruler.Hint) bool {
	l, ok := scale.Fit(r.Marks)
	if !ok || l.Used < fewestRead {
		return false
	}
	if hint.Pitch > 0 || hint.Twin != nil {
		return true
	}
	for _, m := range scale.Identify(r, scale.LengthsOf(r, &l), ruler.Spec{}) {
		if m.Evidence > leastEvidence {
			return true
		}
	}
	return false
}

// coarse is how many times as far apart a row's marks lie as such short ones usually do: the ruler's
// edges, and what lies beside them, keep their size where every fifth millimetre alone is marked.
func (f finding) coarse(r ruler.Row) int {
	usual := max(2*r.HalfLength/usualLength, finestUnit)
	return max(1, int(math.Round(r.Pitch/usual)))
}

// divided is a finding as if its pitch were divided by k, in a strip as fine as that wants.
func (f finding) divided(p pixel.Pyramid, k int) finding {
	if k == 1 {
		return f
	}
	s, part := f.s, 1/float64(k)
	pitch := f.localPitch(len(f.graduations)/2) * part
	out := f
	out.graduations = slices.Clone(f.graduations)
	for i := range out.graduations {
		out.graduations[i].index *= k
	}
	out.s = newStrip(p, s.origin, s.dir, stripOptions{step: stepFor(p, pitch, placeSamples), reach: reachPitches * pitch,
		middle: f.across(), from: s.t0, to: s.t(s.nt - 1)})
	out.q.j0, out.q.j1 = out.s.row(s.w(f.q.j0)), out.s.row(s.w(f.q.j1))
	return out
}

// cutShort tells which marks the picture's border would cut if they were of the longest, or what
// lies half a pitch beside them.
func (f finding) cutShort(p pixel.Pyramid, marks []ruler.Mark, side float64) {
	most := longest(marks)
	in := func(q ruler.Point) bool {
		return q.X >= 0 && q.Y >= 0 && q.X <= float64(p.WholeW-1) && q.Y <= float64(p.WholeH-1)
	}
	for i := range marks {
		m := &marks[i]
		t, beside := m.T+f.q.at(m.T)*side*most, besideMark*f.localPitch(i)
		whole := in(f.s.place(t-beside, f.across()+side*most)) && in(f.s.place(t+beside, f.across()+side*most))
		m.Cut = m.Length < most && !whole
	}
}
