package crops

import (
	"math"

	"leadmark/vision/synth/camera"
	"leadmark/vision/synth/plane"
	"leadmark/vision/synth/texture"
)

// judge says by the rule what of a scene can be read; it knows no picture of it.
func (s *Scene) judge(t *Truth) {
	m := s.Seen()
	for i := range t.Scales {
		s.judgeScale(&s.Ruler.Scales[i], &t.Scales[i], m, t)
	}
	t.FrontWhy = s.judgeFront(m, t)
	t.FrontRead = t.FrontWhy == ""
}

func (s *Scene) judgeScale(sc *Scale, st *ScaleTruth, m plane.View, t *Truth) {
	var counts, longest []bool
	for i := range st.Graduations {
		g := &st.Graduations[i]
		g.Seen = s.counts(sc, m.Back(g.At).X, m, t)
		k := int(math.Round(g.MM / sc.Step))
		counts, longest = append(counts, g.Seen), append(longest, sc.length(k) == sc.longest())
	}
	st.Why = Why(counts, longest)
	st.Readable = st.Why == ""
}

// counts says whether the graduation at p counts.
func (s *Scene) counts(sc *Scale, p float64, m plane.View, t *Truth) bool {
	at := plane.Point{X: p, Y: s.middle(sc)}
	along, across := m.Slope(at)
	px := m.At(at)
	pitch := along.Len() * sc.Step
	blur := s.blur(px, along.Len())
	long := across.Len() * (sc.Orders[0].Length - sc.Start)
	if sc == &s.Ruler.Scales[0] {
		t.BlurShare = max(t.BlurShare, blur/pitch)
	}
	if p < sc.Line || !s.inside(px, 3) {
		return false
	}
	for _, share := range []float64{0.15, 0.5, 0.85} {
		e := sc.Start + share*(sc.Orders[0].Length-sc.Start)
		if q := s.from(sc, e); s.covered(p, q) || !s.inside(m.At(plane.Point{X: p, Y: q}), 1) {
			return false
		}
	}
	c := s.comb(sc, at, px, pitch)
	c.Pitch, c.Blur, c.Long, c.Motion = pitch, s.still(px), long, s.Motion*along.Len()
	return c.Counts()
}

// from is q of a distance from a scale's edge.
func (s *Scene) from(sc *Scale, e float64) float64 {
	if sc.Far {
		return s.Ruler.Width - e
	}
	return e
}

// covered says whether something lies on a place.
func (s *Scene) covered(p, q float64) bool {
	for i := range s.Covers {
		if a, _ := s.Covers[i].at(p, q, 0.5/s.Pose.PxPerMM); a > 0.05 {
			return true
		}
	}
	return false
}

// blur is the standard deviation along the ruler, px.
func (s *Scene) blur(px plane.Point, perMM float64) float64 {
	return math.Hypot(s.still(px), s.Motion*perMM/math.Sqrt(12))
}

// still is that of lens and sensor alone.
func (s *Scene) still(px plane.Point) float64 {
	lens := s.Camera.Blur.At(px.X, px.Y, s.W, s.H)
	if s.Camera.Mosaic != camera.Whole {
		lens = math.Hypot(lens, demosaicBlur)
	}
	return lens
}

// light is what falls on a place.
func (s *Scene) light(at, px plane.Point) float64 {
	g := &s.Lighting
	return g.even(px.X/float64(s.W)-0.5, px.Y/float64(s.H)-0.5) * g.lit(at.X, at.Y) *
		float64(s.Camera.Sensor.Lit(int(px.X), int(px.Y)))
}

// comb is how graduations show about a place.
func (s *Scene) comb(sc *Scale, at, px plane.Point, pitch float64) Comb {
	m := &s.Ruler.Material
	light, behind := s.light(at, px), 0.0
	uneven := 0.0
	if m.Clear > 0 {
		mean, sd := s.groundAbout(px, pitch)
		behind, uneven = m.Clear*mean, m.Clear*sd*light
	}
	wear := 1.0
	if s.Ruler.Wear > 0 {
		sum := 0.0
		for _, share := range []float64{0.2, 0.5, 0.8} {
			q := s.from(sc, sc.Start+share*(sc.Orders[0].Length-sc.Start))
			sum += 1 - s.Ruler.Wear*texture.Edge(s.grain.Cloud(at.X/5, q/3)+0.4*s.grain.At(at.X*2, q*2), 0.05, 0.5)
		}
		wear = sum / 3
	}
	glare := s.Lighting.glare(at.X, at.Y)
	body := (m.Body.Bright() + behind) * s.tone(at.X, at.Y)
	paper := min(1, light*(body+glare))
	ink := min(1, light*(body+wear*(m.Ink.Bright()-body)+glare))
	return Comb{Paper: paper, Ink: ink, Line: sc.Line / sc.Step, Uneven: uneven, Noise: s.Camera.Noise(paper)}
}

// groundAbout is the backdrop's mean brightness and its spread about a place.
func (s *Scene) groundAbout(px plane.Point, reach float64) (mean, sd float64) {
	var sum, sq float64
	const n = 5
	for i := range n * n {
		v := s.Ground(px.X+reach*(float64(i%n)-2)/2, px.Y+reach*(float64(i/n)-2)/2).Bright()
		sum, sq = sum+v, sq+v*v
	}
	mean = sum / (n * n)
	return mean, math.Sqrt(max(0, sq/(n*n)-mean*mean)) / max(1, s.Haze/reach)
}

// judgeFront says why the front end is not readable; "" where it is.
func (s *Scene) judgeFront(m plane.View, t *Truth) string {
	if !t.FrontInView {
		return "not in the picture"
	}
	r, perMM := &s.Ruler, s.Pose.PxPerMM
	const n = 20
	e := End{Of: n, Noise: s.Camera.Noise}
	for i := range n {
		q := r.Width * (float64(i) + 0.5) / n
		if in, out, ok := s.sides(m, q, perMM); ok {
			e.In, e.Out = append(e.In, in), append(e.Out, out)
		}
	}
	along, across := m.Slope(plane.Point{Y: r.Width / 2})
	e.Wide, e.Blur = across.Len()*r.Width, s.blur(t.FrontAt, along.Len())
	e.Pitch = along.Len() * r.Scales[0].Step
	return e.Why()
}

// sides is the light on both sides of the front end at q.
func (s *Scene) sides(m plane.View, q, perMM float64) (in, out float64, ok bool) {
	mat := &s.Ruler.Material
	for _, px := range []float64{-endRoom, -4, 0, 4} {
		if p := px / perMM; s.covered(p, q) || !s.inside(m.At(plane.Point{X: p, Y: q}), 0) {
			return 0, 0, false
		}
	}
	for _, px := range []float64{-4, -7, -10} {
		at := plane.Point{X: px / perMM, Y: q}
		g := &s.Lighting
		v := s.Ground(m.At(at).X, m.At(at).Y).Bright() * s.light(at, m.At(at))
		if g.Shadow > 0 {
			soft := g.Penumbra
			v *= 1 - g.Shadow*s.Ruler.body(at.X-g.ShadowBy[0], q-g.ShadowBy[1], soft, soft)
		}
		out += min(1, v) / 3
	}
	at := plane.Point{X: 3 / perMM, Y: q}
	body := mat.Body.Bright()
	if mat.Clear > 0 {
		body += mat.Clear * s.Ground(m.At(at).X, m.At(at).Y).Bright()
	}
	in = min(1, (body*s.tone(at.X, q)+s.Lighting.glare(at.X, q))*s.light(at, m.At(at)))
	if s.Ruler.body(at.X, q, 1e-6, 1e-6) < 0.5 { // a rounded corner, a hole
		in = out
	}
	return in, out, true
}
