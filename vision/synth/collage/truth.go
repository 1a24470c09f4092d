package collage

import (
	"math"

	"leadmark/vision/synth/camera"
	"leadmark/vision/synth/crops"
	"leadmark/vision/synth/plane"
)

// hand is +1 where the flat ruler lies as in the photograph, -1 where it is mirrored.
func (r *Ruler) hand() float64 {
	a, b := r.back.Slope(plane.Point{X: (r.left + r.right) / 2})
	return math.Copysign(1, a.X*b.Y-a.Y*b.X)
}

// edge is an end of the outline with its inset taken off, in flat mm: at the row of graduations
// (w = 0) and on the ruler's other side.
func (r *Ruler) edge(left bool) [2]plane.Point {
	in := r.back.Inverse()
	a, b := r.outline.corners[1], r.outline.corners[2]
	if left {
		a, b = r.outline.corners[3], r.outline.corners[0]
	}
	d := b.Sub(a)
	d = d.Mul(1 / d.Len())
	normal := plane.Point{X: -d.Y * r.round, Y: d.X * r.round}
	a, b = a.Add(normal.Mul(r.outline.inset)), b.Add(normal.Mul(r.outline.inset))
	p, q := in.At(a), in.At(b)
	at := func(w float64) plane.Point {
		return plane.Point{X: p.X + (q.X-p.X)*(w-p.Y)/(q.Y-p.Y), Y: w}
	}
	return [2]plane.Point{at(0), at(r.width[0] + r.width[1])}
}

// limit is where a frame may see the ruler end: at its end or, where the photograph cut it off, as
// far in as any of its width is cut.
func (r *Ruler) limit(left bool) float64 {
	e := r.edge(left)
	if left && r.outline.left || !left && r.outline.right {
		return e[0].X
	}
	in := min(e[0].X, e[1].X)
	if e[0].X < (r.left+r.right)/2 {
		in = max(e[0].X, e[1].X)
	}
	return in
}

// ends are the flat edges of the front and of the rear, and whether they are the ruler's.
func (s *Scene) ends() (front, rear [2]plane.Point, isFront, isRear bool) {
	r := s.ruler
	l, h, li, hi := r.edge(true), r.edge(false), r.outline.left, r.outline.right
	if l[0].X > h[0].X {
		l, h, li, hi = h, l, hi, li
	}
	if s.forward > 0 {
		return h, l, hi, li
	}
	return l, h, li, hi
}

// truth is what the frame will show.
func (s *Scene) truth() crops.Truth {
	m := s.toFrame()
	front, rear, isFront, isRear := s.ends()
	t := crops.Truth{Toward: map[string]plane.Point{"right": {X: 1}, "left": {X: -1}, "up": {Y: -1},
		"down": {Y: 1}}[s.Travel], AlongMarks: true}
	in := m.Inverse()
	map2 := func(e [2]plane.Point) [2]plane.Point { return [2]plane.Point{m.At(e[0]), m.At(e[1])} }
	t.FrontEdge, t.RearEdge = map2(front), map2(rear)
	t.FrontAt = t.FrontEdge[0].Add(t.FrontEdge[1]).Mul(0.5)
	t.FrontInView, t.RearInView = isFront && s.in(t.FrontAt, 0), isRear && s.in(t.RearEdge[0], 0)
	t.Outside = func(at plane.Point) float64 {
		p := in.At(at)
		return max(s.forward*(p.X-front[0].X), s.forward*(rear[0].X-p.X))
	}
	for i := range s.ruler.rows {
		t.Scales = append(t.Scales, s.scale(&s.ruler.rows[i], m, front))
	}
	t.PxPerMM = t.Scales[0].PxPerMM
	t.PitchPX = t.PxPerMM * t.Scales[0].StepMM
	if t.FrontWhy = "not in the picture"; t.FrontInView {
		t.FrontWhy = s.judgeFront(m, front)
	}
	t.FrontRead = t.FrontWhy == ""
	return t
}

func (s *Scene) in(p plane.Point, by float64) bool {
	return p.X >= by && p.Y >= by && p.X <= float64(s.W-1)-by && p.Y <= float64(s.H-1)-by
}

// scale is the truth of one row.
func (s *Scene) scale(r *row, m plane.Map, front [2]plane.Point) crops.ScaleTruth {
	in := m.Inverse()
	t := crops.ScaleTruth{Name: r.name, StepMM: r.step, FrontMM: r.reading(front[0].X),
		Reading: func(at plane.Point) float64 { return r.reading(in.At(at).X) }}
	var counts, longest []bool
	for _, g := range r.grads {
		at := m.At(g.flat)
		if !s.in(at, 0) {
			continue
		}
		along, _ := m.Slope(g.flat)
		seen := s.in(at, 3) && s.counts(r, g, at, along.Len())
		t.Graduations = append(t.Graduations, crops.Graduation{MM: g.mm, At: at, Seen: seen})
		counts = append(counts, seen)
		longest = append(longest, math.Abs(math.Remainder(g.mm/r.step, 10)) < 1e-6)
		t.PxPerMM = along.Len()
	}
	if n := len(t.Graduations); n > 1 {
		a, b := t.Graduations[0], t.Graduations[n-1]
		t.PxPerMM = b.At.Sub(a.At).Len() / math.Abs(b.MM-a.MM)
	}
	t.Why = crops.Why(counts, longest)
	t.Readable = t.Why == ""
	return t
}

// counts says whether a graduation counts. Photographs show ink already blurred: its contrast is
// that, over three tenths of the pitch and 1.2 mm long.
func (s *Scene) counts(r *row, g grad, at plane.Point, perMM float64) bool {
	paper := min(1, s.light(at.X, at.Y)*s.ruler.bright(s.ruler.back.At(g.flat), 1)/max(0.05, 1-g.seen))
	return crops.Comb{Pitch: perMM * r.step, Long: 1.2 * perMM, Blur: s.still(), Paper: paper,
		Motion: s.motion * perMM, Ink: paper * (1 - g.seen), Line: 0.3, Noise: s.Camera.Noise(paper)}.Counts()
}

// blur is what the frame adds, px along.
func (s *Scene) blur(perMM float64) float64 {
	return math.Hypot(s.still(), s.motion*perMM/math.Sqrt(12))
}

// still is that of lens and sensor alone.
func (s *Scene) still() float64 {
	if s.Camera.Mosaic != camera.Whole {
		return math.Hypot(s.Camera.Blur.From, 0.4)
	}
	return s.Camera.Blur.From
}

// judgeFront judges the front end by what lies on its two sides.
func (s *Scene) judgeFront(m plane.Map, front [2]plane.Point) string {
	const n = 20
	still := *s
	still.motion = 0
	in := m.Inverse()
	along, _ := m.Slope(front[0])
	perMM := along.Len()
	e := crops.End{Of: n, Noise: s.Camera.Noise, Blur: s.blur(perMM), Pitch: perMM * s.ruler.rows[0].step}
	w0, w1 := s.ruler.width[0], s.ruler.width[1]
	bright := func(p plane.Point) float64 {
		at := m.At(p)
		c := still.colour(in, at.X, at.Y)
		return min(1, s.light(at.X, at.Y)*(0.2126*float64(c[0])+0.7152*float64(c[1])+0.0722*float64(c[2])))
	}
	for i := range n {
		w := w0 + (w1-w0)*(float64(i)+0.5)/n
		x := front[0].X + (front[1].X-front[0].X)*w/(w0+w1)
		at := func(px float64) plane.Point { return plane.Point{X: x + s.forward*px/perMM, Y: w} }
		if !s.in(m.At(at(0)), 0) || !s.in(m.At(at(12)), 0) {
			continue
		}
		e.In = append(e.In, bright(at(-3)))
		e.Out = append(e.Out, (bright(at(4))+bright(at(7))+bright(at(10)))/3)
	}
	e.Wide = math.Abs(w1-w0) * perMM
	return e.Why()
}
