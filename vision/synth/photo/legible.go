package photo

import (
	"math"

	"leadmark/vision/ruler"
	"leadmark/vision/synth/paint"
)

const (
	leastSeen     = 25    // graduations that can be told
	leastPitch    = 2.9   // px
	mostBlur      = 0.334 // standard deviation of all blur, in graduations
	leastCodes    = 3.0   // code values: amplitude of the marks' fundamental after blur
	leastToNoise  = 0.7   // that amplitude against the noise of one pixel
	leastBeyond   = 3.0   // graduations of backdrop in view beyond the front end
	leastEdgeCode = 6.0   // code values between the ruler's end and what lies beyond
)

// Legible says whether a scene's picture is to be read, by the scene alone: "" where it is, else
// what is wrong. At least 25 graduations of the first scale lie in the picture, not hidden, at
// least 2.9 px apart, whose marks after all blur (of standard deviation up to a third of a
// graduation) swing by at least 3 code values and 0.7 of a pixel's noise about their mean; and the
// front end, or band, is in view with three graduations beyond it, at least 6 code values from the
// backdrop. A person at a screen reads such pictures.
func (s *Scene) Legible(t Truth) string {
	if t.Why != "" {
		return t.Why
	}
	r := place(s.Camera, s.Track, s.Pose, &s.Look)
	seen := 0
	for _, g := range t.Graduations {
		if s.tellable(r, g.ReadingMM*mm, t.BlurPX) {
			seen++
		}
	}
	switch pitch := s.perMetre(r, r.look.Front()) * r.look.Graduation(); {
	case seen < leastSeen:
		return "few-marks"
	case t.BlurPX > mostBlur*pitch:
		return "blurred"
	}
	at := t.FrontMM * mm
	beyond := s.Camera.Project(r.point(at-leastBeyond*r.look.Graduation(), 0))
	if !s.Camera.inside(beyond, 2) || !s.endShows(r, at) {
		return "front-out"
	}
	return ""
}

// tellable says whether the mark at reading u can be told from what is beside it.
func (s *Scene) tellable(r *placed, u, blur float64) bool {
	sc := &r.look.Scales[0]
	pitch := s.perMetre(r, u) * sc.Pitch
	base, ink := s.tones(r, u, sc.Middle(r.look.Width))
	part := sc.LineWidth / sc.Pitch
	swing := 2 / math.Pi * math.Sin(math.Pi*part) * math.Exp(-2*math.Pow(math.Pi*blur/pitch,
		2)) * math.Abs(paint.CodeValue(base)-paint.CodeValue(ink))
	return pitch >= leastPitch && swing >= leastCodes && swing >= leastToNoise*s.codeNoise(base)
}

// tones are the light that reaches the sensor from the ruler's face and from its ink, 1 for white.
func (s *Scene) tones(r *placed, u, v float64) (base, ink float64) {
	l := r.look
	at := r.point(u, v)
	p := painter{cam: s.Camera, ruler: r, light: s.Flash, ref: s.Track.Trip}
	sh := p.shadeAt(at, u, v)
	k := s.Flash.Power * (1 + s.Ambient) * s.vignetteAt(at)
	back := paint.Luminance(s.Backdrop.mean()) * s.Flash.Irradiance(at, r.N, s.Track.Trip) * 0.8
	op := l.Opacity
	base = k * (paint.Luminance(l.Base)*sh.diffuse*op + sh.glare + back*(1-op))
	ink = k * (paint.Luminance(l.Ink)*sh.diffuse + 0.3*sh.glare)
	if l.Wear > 0 {
		ink += 0.3 * l.Wear * (base - ink)
	}
	return base, ink
}

// endShows says whether the front end, or the band's leading edge, stands out.
func (s *Scene) endShows(r *placed, at float64) bool {
	base, _ := s.tones(r, at, 0)
	if b := r.look.Band; b != nil {
		band := base / paint.Luminance(r.look.Base) * paint.Luminance(b.Colour)
		return math.Abs(paint.CodeValue(base)-paint.CodeValue(band)) >= leastEdgeCode
	}
	least := math.Inf(1)
	for _, beyond := range []float64{0.2, 0.6, 1} { // graduations: where the ruler's shadow may lie
		out := at - beyond*r.look.Graduation()
		back := s.behind(r, at) * s.shadowAt(r, s.Camera.Project(r.point(out, 0)))
		least = min(least, math.Abs(paint.CodeValue(base)-paint.CodeValue(back)))
	}
	return least >= leastEdgeCode
}

// shadowAt is the part of the flash's light that the ruler lets reach the backdrop at a place of
// the picture.
func (s *Scene) shadowAt(r *placed, p ruler.Point) float64 {
	if s.Shadow <= 0 {
		return 1
	}
	outline := (&painter{cam: s.Camera, ruler: r}).outline()
	return float64(s.shadowOf(r, outline).at(int(p.X), int(p.Y)))
}

// behind is the light that reaches the sensor from the backdrop at the reading at.
func (s *Scene) behind(r *placed, at float64) float64 {
	p := r.point(at, 0)
	k := s.Flash.Power * (1 + s.Ambient) * s.vignetteAt(p)
	far := p.Mul((s.Track.Trip.Z + s.Backdrop.Behind) / p.Z)
	return k * paint.Luminance(s.Backdrop.mean()) * s.Flash.Irradiance(far, Vec{0, 0, 1}, s.Track.Trip)
}

// mean is a backdrop's mean colour.
func (b Backdrop) mean() paint.RGB {
	var sum paint.RGB
	const n = 12
	for i := range n * n {
		sum = sum.Add(b.at(float64(i%n)*97, float64(i/n)*89, 7))
	}
	return sum.Mul(1.0 / (n * n))
}

func (s *Scene) vignetteAt(at Vec) float64 {
	c := s.Camera
	p := c.Project(at)
	dx, dy := p.X-float64(c.Width-1)/2, p.Y-float64(c.Height-1)/2
	corner := float64(c.Width*c.Width+c.Height*c.Height) / 4
	return math.Exp2(-s.Sensor.Vignette * (dx*dx + dy*dy) / corner)
}

// codeNoise is the noise of one pixel's grey in code values, at a linear tone: shot and read noise
// through the curve's slope, three channels weighed as grey is made of them (ITU-R BT.601), and
// rounding.
func (s *Scene) codeNoise(x float64) float64 {
	const rounding = 1.0 / 12
	if s.Sensor.FullWell <= 0 {
		return math.Sqrt(rounding)
	}
	x = max(x, 0)
	well := s.Sensor.FullWell
	sd := math.Sqrt(x/well + s.Sensor.Read*s.Sensor.Read/(well*well))
	const h = 2e-3
	slope := (paint.CodeValue(x+h) - paint.CodeValue(max(0, x-h))) / (h + min(x, h))
	const channels = 0.299*0.299 + 0.587*0.587 + 0.114*0.114
	return math.Sqrt(channels*slope*slope*sd*sd + rounding)
}

// TripLine is the picture of the line that the trip place is stated by.
func (s *Scene) TripLine() ruler.Line {
	return s.Track.Line(s.Camera, s.StatedLine, s.Look.Width/2)
}

// EndBound is the Cramer-Rao bound on the place of the front end along the ruler, px: the least
// standard deviation of any unbiased estimate. For a signal s in white normal noise of standard
// deviation sigma it is 1 / sqrt(sum over the pixels of (ds/dplace)^2 / sigma^2) (S. M. Kay,
// Fundamentals of Statistical Signal Processing: Estimation Theory, 1993, section 3.5, equation
// 3.14). The signal is a step between the two light levels blurred to a Gaussian of the picture's
// blur, as the curve of tones shows it, the same on every line of pixels across the ruler but at
// its rounded corners and where print stands at the very end; sigma follows the light. The edge's
// direction is unknown too; the place is that on the long axis.
func (s *Scene) EndBound(t Truth) float64 {
	r := place(s.Camera, s.Track, s.Pose, &s.Look)
	at := t.FrontMM * mm
	base, _ := s.tones(r, at, 0)
	back := s.behind(r, at)
	length, aside := s.plainEnd(r, at, 3*t.BlurPX)
	const h = 0.1 // px
	level := func(x float64) float64 { return back + (base-back)*0.5*math.Erfc(-x/t.BlurPX/math.Sqrt2) }
	var perLine float64
	for x := -5 * t.BlurPX; x < 5*t.BlurPX; x += h {
		slope := (paint.CodeValue(level(x+h)) - paint.CodeValue(level(x-h))) / (2 * h)
		n := s.codeNoise(level(x))
		perLine += h * slope * slope / (n * n)
	}
	return math.Sqrt(aside / (length * perLine))
}

// plainEnd describes the part of the end at reading at that is straight and bears no print within
// reach px: its length, px, and how many times the variance of a place on the long axis, the edge's
// direction being unknown, exceeds that at the part's middle.
func (s *Scene) plainEnd(r *placed, at, reach float64) (length, aside float64) {
	l := r.look
	const steps = 400
	dv := (l.Width - 2*l.Round) / steps
	px := 1 / s.perMetre(r, at)
	var n, sum, squares float64
	for i := range steps {
		v := -l.Width/2 + l.Round + (float64(i)+0.5)*dv
		clear := true
		for u := 0.0; u < reach*px; u += px / 2 {
			if ink, _ := l.Print(at+u, v, px, px); ink > 0 {
				clear = false
			}
		}
		if clear {
			n, sum, squares = n+1, sum+v, squares+v*v
		}
	}
	whole := s.Camera.Project(r.point(at, l.Width/2-l.Round)).Sub(s.Camera.Project(r.point(at,
		l.Round-l.Width/2))).Len()
	mean := sum / n
	return whole * n / steps, 1 + mean*mean/(squares/n-mean*mean)
}

// PxPerM is the true scale along the ruler at a place of the picture, px per metre.
func (s *Scene) PxPerM(at ruler.Point) float64 {
	r := place(s.Camera, s.Track, s.Pose, &s.Look)
	x, y := s.Camera.ray(at.X, at.Y)
	u, v, _ := r.face(x, y)
	const h = 0.5 * mm
	return s.Camera.Project(r.point(u+h, v)).Sub(s.Camera.Project(r.point(u-h, v))).Len() / (2 * h)
}
