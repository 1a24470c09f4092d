package crops

import (
	"fmt"
	"math"

	"leadmark/vision/synth/camera"
	"leadmark/vision/synth/plane"
	"leadmark/vision/synth/texture"
)

// The rule of what is readable; the package's comment says it in words.
const (
	leastLight    = 0.008 // of white
	leastPitch    = 4     // px
	mostBlur      = 0.3   // of the pitch, standard deviation
	leastContrast = 0.05  // of the ruler's light
	leastSNR      = 10
	leastLong     = 5 // px, the shortest graduations
	leastCount    = 25
	leastRun      = 12 // side by side
	leastLongest  = 2
	endRoom       = 12 // px in the picture beyond the end
	endWidth      = 0.6
	endStep       = 0.15 // of the brighter side
	endSNR        = 8
	demosaicBlur  = 0.4 // px, standard deviation that mosaic and pixels add
)

// Judge says by the rule what of a scene can be read; it knows no picture of it.
func (s *Scene) Judge(t *Truth) {
	m := s.Pose.Map()
	for i := range t.Scales {
		s.judgeScale(&s.Ruler.Scales[i], &t.Scales[i], m, t)
	}
	t.FrontWhy = s.judgeFront(m, t)
	t.FrontRead = t.FrontWhy == ""
}

func (s *Scene) judgeScale(sc *Scale, st *ScaleTruth, m plane.Map, t *Truth) {
	back := m.Inverse()
	n, run, best, long := 0, 0, 0, 0
	for i := range st.Graduations {
		g := &st.Graduations[i]
		p := back.At(g.At).X
		if g.Seen = s.counts(sc, p, m, t); !g.Seen {
			run = 0
			continue
		}
		n++
		run++
		best = max(best, run)
		if k := int(math.Round(g.MM / sc.Step)); sc.length(k) == sc.longest() {
			long++
		}
	}
	switch {
	case n < leastCount:
		st.Why = fmt.Sprintf("%d graduations count", n)
	case best < leastRun:
		st.Why = fmt.Sprintf("%d graduations side by side", best)
	case long < leastLongest:
		st.Why = fmt.Sprintf("%d of the longest", long)
	}
	st.Readable = st.Why == ""
}

// counts says whether the graduation at p counts.
func (s *Scene) counts(sc *Scale, p float64, m plane.Map, t *Truth) bool {
	at := plane.Point{X: p, Y: s.middle(sc)}
	along, across := m.Slope(at)
	px := m.At(at)
	pitch := along.Len() * sc.Step
	blur := s.blur(px, along.Len()) / pitch
	long := across.Len() * (sc.Orders[0].Length - sc.Start)
	if sc == &s.Ruler.Scales[0] {
		t.BlurShare = max(t.BlurShare, blur)
	}
	if p < sc.Line || !s.inside(px, 3) || pitch < leastPitch || blur > mostBlur || long < leastLong {
		return false
	}
	for _, share := range []float64{0.15, 0.5, 0.85} {
		e := sc.Start + share*(sc.Orders[0].Length-sc.Start)
		if q := s.from(sc, e); s.covered(p, q) || !s.inside(m.At(plane.Point{X: p, Y: q}), 1) {
			return false
		}
	}
	return s.standsOut(sc, at, px, pitch, blur, long)
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
	lens := s.Camera.Blur.At(px.X, px.Y, s.W, s.H)
	if s.Camera.Mosaic != camera.Whole {
		lens = math.Hypot(lens, demosaicBlur)
	}
	return math.Hypot(lens, s.Motion*perMM/math.Sqrt(12))
}

// light is what falls on a place.
func (s *Scene) light(at, px plane.Point) float64 {
	g := &s.Lighting
	return g.even(px.X/float64(s.W)-0.5, px.Y/float64(s.H)-0.5) * g.lit(at.X, at.Y) *
		float64(s.Camera.Sensor.Lit(int(px.X), int(px.Y)))
}

// standsOut says whether the comb of graduations does, about a place.
func (s *Scene) standsOut(sc *Scale, at, px plane.Point, pitch, blur, long float64) bool {
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
	f := min(0.5, sc.Line/sc.Step)
	comb := 2 * math.Abs(paper-ink) * f * math.Sin(math.Pi*f) / (math.Pi * f) * math.Exp(-2*math.Pi*math.Pi*blur*blur)
	noise := s.noise(paper) / math.Sqrt(long*pitch/2)
	return max(paper, ink) >= leastLight && comb >= leastContrast*paper && comb >= leastSNR*noise && comb >= 2*uneven
}

// noise is that of one pixel of so much light: the sensor's, and the compression's in code values.
func (s *Scene) noise(light float64) float64 {
	n := &s.Camera.Sensor
	codes := (0.5 + 0.06*float64(100-s.Camera.Quality)) / 255
	return math.Hypot(math.Sqrt(light*n.FullWell+n.Read*n.Read)/n.FullWell, codes*2.2*math.Pow(light, 0.545))
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
func (s *Scene) judgeFront(m plane.Map, t *Truth) string {
	if !t.FrontInView {
		return "not in the picture"
	}
	r, perMM := &s.Ruler, s.Pose.PxPerMM
	const n = 20
	var steps, outside []float64
	for i := range n {
		q := r.Width * (float64(i) + 0.5) / n
		if in, out, ok := s.sides(m, q, perMM); ok {
			steps, outside = append(steps, in-out), append(outside, out)
		}
	}
	if float64(len(steps)) < endWidth*n {
		return "covered or at the border"
	}
	mean, bright := average(steps), 0.0
	sd, plain := 0.0, 0
	for i, v := range steps {
		bright = max(bright, outside[i], outside[i]+v)
		if v*mean > 0 && math.Abs(v) >= endStep*max(outside[i], outside[i]+v) {
			plain++
		}
		sd += math.Pow(outside[i]-average(outside), 2)
	}
	sd = math.Sqrt(sd / float64(len(steps)))
	along, across := m.Slope(plane.Point{Y: r.Width / 2})
	wide := across.Len() * r.Width
	blur := s.blur(t.FrontAt, along.Len())
	switch {
	case float64(plain) < endWidth*n || math.Abs(mean) < sd:
		return "too like the backdrop"
	case bright < leastLight:
		return "dark"
	case math.Abs(mean) < endSNR*s.noise(bright)/math.Sqrt(wide):
		return "too noisy"
	case blur > mostBlur*along.Len()*s.Ruler.Scales[0].Step:
		return "too blurred"
	}
	return ""
}

// sides is the light on both sides of the front end at q.
func (s *Scene) sides(m plane.Map, q, perMM float64) (in, out float64, ok bool) {
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

func average(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x
	}
	return sum / float64(len(v))
}
