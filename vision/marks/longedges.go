package marks

import (
	"math"

	"leadmark/fit/stat"
	"leadmark/vision/edge"
	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
)

// body finds the ruler's two long edges: near is the one beside the marks, far the one across the
// ruler; blur is that of the far one, px, 0 where it was not measured. A line is nil where no edge
// was found. side says where the ruler's middle lies; the shortest and longest marks reach so far
// from their middle, px.
func (f finding) body(p pixel.Pyramid, side int, shortest, longest float64) (near, far *ruler.Line, blur float64) {
	pitch := f.localPitch(len(f.graduations) / 2)
	inward, outward := bodyPitches*pitch, shortest+(bodyPitches/nearParts)*pitch // the near edge lies beside the marks
	s := newStrip(p, f.s.origin, f.s.dir, stripOptions{step: max(bodyFinest, pitch/bodySamples),
		middle: f.across() + float64(side)*(inward-outward)/2, reach: (inward + outward) / 2,
		from: f.graduations[0].t, to: f.graduations[len(f.graduations)-1].t})
	b := newBlocks(s, pitch)
	out := -float64(side)
	wc := f.across()
	nearest, ok := b.best(wc+out*0.5*shortest, wc+out*(shortest+nearReach*pitch), func(e sideEdge) float64 {
		return e.strength() / (1 + nearerMore*math.Abs(e.w-wc)/pitch) // further ones are the shadow's
	})
	if ok {
		near, _ = f.sideLine(p, nearest.w, nearest.step)
	}
	// Blurred marks lend the gaps between them some of their tone; past the marks stand numerals,
	// but not on most of the way.
	past := wc - out*(longest+2*pitch)
	tones := []float64{f.gapTone(), b.toneOver(s.row(past)-int(pitch/s.step), s.row(past)+int(pitch/s.step))}
	farthest, ok := b.best(wc-out*(shortest+farReach*pitch), wc-out*(bodyPitches-farMargin)*pitch, func(e sideEdge) float64 {
		in, beyond := e.before, e.after
		if side < 0 {
			in, beyond = e.after, e.before
		}
		if !bounds(in, beyond, tones[0]) && !bounds(in, beyond, tones[1]) {
			return 0
		}
		return e.strength() / (1 + fartherLess*math.Abs(e.w-wc)/pitch)
	})
	if ok {
		far, blur = f.sideLine(p, farthest.w, farthest.step)
	}
	return near, far, blur
}

// bounds says whether an edge with a tone inside and one beyond can bound a ruler of a tone: inside
// of it the ruler must have its own tone, as far as the light is even, outside another.
func bounds(in, beyond, tone float64) bool {
	step := math.Abs(in - beyond)
	return math.Abs(in-tone) <= max(sameTone*step, unevenLight*tone) && math.Abs(beyond-tone) >= otherTone*step
}

// gapTone is the ruler's own tone: that midway between its marks.
func (f finding) gapTone() float64 {
	var v []float64
	for i := 1; i < len(f.graduations); i++ {
		c := f.tr.s.col((f.graduations[i].t + f.graduations[i-1].t) / 2)
		if k := int(math.Round(c)); k >= 0 && k < len(f.tr.raw) && f.tr.raw[k] == f.tr.raw[k] {
			v = append(v, f.tr.raw[k])
		}
	}
	return stat.Median(v)
}

// blocks are lateral profiles of a strip, each over a few pitches along the ruler.
type blocks struct {
	s    *strip
	h    float64     // half-width of the step filter, rows
	t    []float64   // centres along the axis
	tone [][]float64 // tone[block][row], the usual one along the ruler
	step [][]float64 // step[block][row]: tone after less tone before
}

func newBlocks(s *strip, pitch float64) *blocks {
	b := &blocks{s: s, h: max(2, pitch/s.step)}
	n := max(1, int(float64(s.nt)*s.step/(blockPitches*pitch)))
	for k := 0; k < n; k++ {
		i0, i1 := k*s.nt/n, (k+1)*s.nt/n
		b.t = append(b.t, s.t((i0+i1)/2))
		tone := lateral(s, i0, i1)
		b.tone = append(b.tone, tone)
		b.step = append(b.step, stepFilter(tone, b.h))
	}
	return b
}

// lateral is the median of columns i0 to i1 for every row: the tone of the ruler's face, or of what
// lies beside it, whatever marks and numerals stand there.
func lateral(s *strip, i0, i1 int) []float64 {
	out := make([]float64, s.nw)
	seen := make([]float32, 0, i1-i0)
	for j := range out {
		seen = seen[:0]
		for _, v := range s.val[j*s.nt+i0 : j*s.nt+i1] {
			if v == v {
				seen = append(seen, v)
			}
		}
		if len(seen) == 0 {
			out[j] = math.NaN() // all of it is outside
			continue
		}
		out[j] = float64(stat.Select(seen, len(seen)/2))
	}
	return out
}

// stepFilter is the mean of h samples after each place less that of h samples before it.
func stepFilter(v []float64, h float64) []float64 {
	out := make([]float64, len(v))
	sum := cumulate(v)
	for i := range out {
		x := float64(i)
		out[i] = meanOver(sum, x+0.5, x+h) - meanOver(sum, x-h, x-0.5)
		lo, hi := int(x-h), int(math.Ceil(x+h))
		if lo < 0 || hi > len(v)-1 || v[i] != v[i] || v[lo] != v[lo] || v[hi] != v[hi] {
			out[i] = math.NaN() // the picture's border is no edge of the ruler
		}
	}
	return out
}

// sideEdge is an edge along the ruler, w px across the strip.
type sideEdge struct {
	w, step       float64 // step: median over the blocks of tone after less tone before
	agree         float64 // share of the blocks that show it
	before, after float64 // median tone on its two sides
}

func (e sideEdge) strength() float64 { return math.Abs(e.step) * e.agree }

// best returns the edge between two places across that weighs most; ok is false where there is
// none.
func (b *blocks) best(wa, wb float64, weigh func(sideEdge) float64) (sideEdge, bool) {
	j0, j1 := max(1, b.s.row(min(wa, wb))), min(b.s.nw-2, b.s.row(max(wa, wb)))
	at, score := -1, leastStep
	for j := j0; j <= j1; j++ {
		e := b.edge(j)
		if e.agree < leastAgree {
			continue
		}
		if v := weigh(e); v > score {
			at, score = j, v
		}
	}
	if at < 0 {
		return sideEdge{}, false
	}
	return b.edge(at), true
}

// edge describes the step at a row.
func (b *blocks) edge(j int) sideEdge {
	m, agree := b.agreed(j)
	h := int(math.Ceil(b.h))
	return sideEdge{b.s.w(j), m, agree, b.toneOver(j-h, j-1), b.toneOver(j+1, j+h)}
}

// toneOver is the median over the blocks of the mean tone of some rows.
func (b *blocks) toneOver(j0, j1 int) float64 {
	var v []float64
	for _, tone := range b.tone {
		sum, n := 0.0, 0
		for j := max(0, j0); j <= min(len(tone)-1, j1); j++ {
			if tone[j] == tone[j] {
				sum += tone[j]
				n++
			}
		}
		if n > 0 {
			v = append(v, sum/float64(n))
		}
	}
	return stat.Median(v)
}

// agreed is the median step of all blocks at a row, give or take a row or two, and the share of
// the blocks that have its sign and at least a third of its size.
func (b *blocks) agreed(j int) (m, share float64) {
	var all []float64
	for _, s := range b.step {
		if s[j] == s[j] {
			all = append(all, s[j])
		}
	}
	if 2*len(all) < len(b.step) || len(all) == 0 {
		return 0, 0
	}
	m = stat.Select(all, len(all)/2)
	n := 0
	for _, v := range all {
		if v*m > 0 && math.Abs(v) >= math.Abs(m)/blockAlike {
			n++
		}
	}
	return m, float64(n) / float64(len(all))
}

// sideLine places the edge near w, which was found coarsely, to a part of a pixel: block by block
// along the ruler, by its steepest place in light, then a robust line, since it need not run
// along the strip, then on the picture's own pixels, which tell its blur too.
func (f finding) sideLine(p pixel.Pyramid, w, step float64) (l *ruler.Line, blur float64) {
	pitch := f.localPitch(len(f.graduations) / 2)
	at := f.s.origin.Add(f.s.dir.Perp().Mul(w))
	s := newStrip(p, at, f.s.dir, stripOptions{step: f.s.step, reach: sideReach * pitch,
		from: f.graduations[0].t, to: f.graduations[len(f.graduations)-1].t})
	b := newBlocks(s, pitch)
	var t, y []float64
	for k, tone := range b.tone {
		light := make([]float64, len(tone))
		for j, v := range tone {
			light[j] = pixel.Linear(v)
		}
		if x, ok := steepest(light, s.across(0), sidePlace*pitch/s.step, math.Copysign(1, step)); ok {
			t, y = append(t, b.t[k]), append(y, s.w0+x*s.step)
		}
	}
	a, c, _, _ := robustLine(t, y, sideOff*pitch)
	lo, hi := s.t(0), s.t(s.nt-1)
	found := ruler.Line{A: s.place(lo, a+c*lo), B: s.place(hi, a+c*hi)}
	if e, ok := edge.Place(p, found, sideBlur*pitch, sideCut*pitch, edge.InPieces); ok && e.Share > sideShare {
		line := e.Line // by itself: a pointer into e would keep its pixels as long as the row
		return &line, e.Sigma
	}
	return &found, 0
}
