package crops

import (
	"image"
	"math"

	"leadmark/vision/synth/camera"
	"leadmark/vision/synth/plane"
	"leadmark/vision/synth/texture"
)

// Scene is all that one picture shows.
type Scene struct {
	W, H     int
	Travel   string // the way the front end points: right, left, up, down
	Ruler    Ruler
	Pose     plane.Pose // of the ruler: p and q to px
	Backdrop string
	Ground   texture.Field // px to what lies behind
	Haze     float64       // px, by how much more the backdrop is blurred
	Lens     plane.Lens
	Motion   float64 // mm, the way the ruler goes while it is lit
	Fade     float64 // time constants of its fading in which the flash is cut off; 0: even light
	Covers   []Cover
	Lighting Lighting
	Camera   camera.Camera
	Seed     uint64
	pen      pen
	grain    texture.Grain
	lot      texture.Lot
}

// print is the sheets of the ruler's face for one picture.
type print struct{ ink, scratches *sheet }

// printed makes the sheets of the part of the ruler in view.
func (s *Scene) printed() print {
	p0, p1 := s.view()
	p0, p1 = max(0, p0), min(s.Ruler.Length, p1)
	perMM := min(30, 1.2*s.Pose.PxPerMM)
	if p1 <= p0 {
		p1 = p0 + 1
	}
	a := newSheet(p0, p1, s.Ruler.Width, perMM)
	for i := range s.Ruler.Scales {
		a.numerals(&s.Ruler, &s.Ruler.Scales[i], s.pen)
	}
	a.words(s)
	part := s.flash()[0]
	a.spread(part.to - part.from)
	out := print{ink: a}
	if s.Ruler.Scratches > 0 {
		out.scratches = newSheet(p0, p1, s.Ruler.Width, perMM)
		out.scratches.scratch(s.lot, s.Ruler.Scratches)
		out.scratches.spread(part.to - part.from)
	}
	return out
}

// words prints the ruler's words along its middle.
func (a *sheet) words(s *Scene) {
	if s.Ruler.Words == "" {
		return
	}
	im := texture.Word(s.Ruler.Words)
	high := 0.8 * s.pen.high * a.perM
	k := float64(im.Rect.Dy()) / high
	sc := &s.Ruler.Scales[0]
	free := sc.longest() + 1.3*s.pen.high // mm beside the numerals
	x0, y0 := s.lot.Span(0, float64(a.w)), s.from(sc, (free+s.Ruler.Width)/2)*a.perM-high/2
	for y := range int(high) {
		for x := range int(float64(im.Rect.Dx()) / k) {
			i, j := int(x0)+x, int(y0)+y
			if i < a.w && j >= 0 && j < a.h {
				v := float32(im.Pix[int(k*float64(y))*im.Stride+int(k*float64(x))]) / 255
				a.v[j*a.w+i] = max(a.v[j*a.w+i], v)
			}
		}
	}
}

// Seen is how the camera sees the ruler's face.
func (s *Scene) Seen() plane.View { return plane.NewView(s.Pose.Map(), s.Lens) }

// view is the part of p that the picture shows.
func (s *Scene) view() (from, to float64) {
	m := s.Seen()
	from, to = math.Inf(1), math.Inf(-1)
	for _, c := range []plane.Point{{X: -1, Y: -1}, {X: float64(s.W), Y: -1}, {X: -1, Y: float64(s.H)},
		{X: float64(s.W), Y: float64(s.H)}} {
		p := m.Back(c).X
		from, to = min(from, p), max(to, p)
	}
	return from, to
}

// Draw draws the picture.
func (s *Scene) Draw() *image.RGBA {
	l := camera.NewLight(s.W, s.H)
	s.ground(l)
	back, face, parts := s.Pose.Map().Inverse(), s.printed(), s.flash()
	for y := range s.H {
		for x := range s.W {
			s.pixel(l, back, face, parts, x, y)
		}
	}
	return s.Camera.Take(l, s.Seed)
}

// ground draws what lies behind the ruler, the more coarsely the more it is blurred.
func (s *Scene) ground(l *camera.Light) {
	step := max(1, int(s.Haze))
	if step == 1 {
		for y := range s.H {
			for x := range s.W {
				c := s.Ground(float64(x), float64(y))
				i := y*s.W + x
				l.C[0][i], l.C[1][i], l.C[2][i] = c[0], c[1], c[2]
			}
		}
		return
	}
	w, h := s.W/step+3, s.H/step+3
	small := camera.NewLight(w, h)
	for y := range h {
		for x := range w {
			c := s.Ground(float64(x*step), float64(y*step))
			for k := range c {
				small.C[k][y*w+x] = c[k]
			}
		}
	}
	blur := math.Sqrt(max(0, s.Haze*s.Haze/float64(step*step)-0.1))
	small.Blur(camera.Sigma{From: blur, To: blur})
	for y := range s.H {
		for x := range s.W {
			enlarge(l, small, y*s.W+x, float64(x)/float64(step), float64(y)/float64(step))
		}
	}
}

// enlarge sets a pixel from a smaller picture's place.
func enlarge(l, small *camera.Light, i int, x, y float64) {
	a, b := int(x), int(y)
	tx, ty := float32(x-float64(a)), float32(y-float64(b))
	o := b*small.W + a
	for k := range l.C {
		v := small.C[k]
		up, dn := v[o]+tx*(v[o+1]-v[o]), v[o+small.W]+tx*(v[o+small.W+1]-v[o+small.W])
		l.C[k][i] = up + ty*(dn-up)
	}
}

// pixel lays ruler, covers and light over one pixel of the backdrop.
func (s *Scene) pixel(l *camera.Light, back plane.Map, face print, parts []part, x, y int) {
	fx, fy := float64(x), float64(y)
	in := s.Lens.Straight(plane.Point{X: fx, Y: fy})
	w := 1 / (back[6]*in.X + back[7]*in.Y + back[8])
	p, q := (back[0]*in.X+back[1]*in.Y+back[2])*w, (back[3]*in.X+back[4]*in.Y+back[5])*w
	dx, dy := (back[0]-back[6]*p)*w, (back[1]-back[7]*p)*w
	half := 0.5 * math.Sqrt(dx*dx+dy*dy)
	pp, pq := p, q
	p, q = s.Ruler.Section(p, q)
	i := y*s.W + x
	c := texture.Colour{l.C[0][i], l.C[1][i], l.C[2][i]}
	r, g := &s.Ruler, &s.Lighting
	light := g.even(fx/float64(s.W)-0.5, fy/float64(s.H)-0.5) * g.lit(p, q)
	if g.Shadow > 0 {
		sp, sq := p-g.ShadowBy[0], q-g.ShadowBy[1]
		if soft := g.Penumbra; sp > -soft && sq > -soft && sq < r.Width+soft {
			c = c.Times(1 - g.Shadow*r.body(sp, sq, soft, soft))
		}
	}
	if q > -half && q < r.Width+half {
		c = s.face(face, parts, c, p, q, half)
	}
	for k := range s.Covers {
		if a, col := s.Covers[k].at(pp, pq, half); a > 0 {
			c = c.Mix(col, a)
		}
	}
	for k := range c {
		l.C[k][i] = float32(light) * c[k]
	}
}

// surface is the ruler's own colour at a place, over what shines through it.
func (s *Scene) surface(face print, behind texture.Colour, p, q, long, half float64) texture.Colour {
	r, m := &s.Ruler, &s.Ruler.Material
	body := m.Body
	if m.Clear > 0 {
		c := behind.Times(m.Clear)
		body = texture.Colour{body[0] + c[0], body[1] + c[1], body[2] + c[2]}
		rim := min(q, r.Width-q, p) // the cut edges bend the light away
		body = body.Times(1 - 0.5*texture.Bar(rim, -1, 0.2, 0.15) + 0.9*texture.Bar(rim, 0.2, 0.45, 0.15))
	}
	body = body.Times(s.tone(p, q))
	ink, wear := 0.0, 1.0
	if r.Wear > 0 {
		wear = 1 - r.Wear*texture.Edge(s.grain.Cloud(p/5, q/3)+0.4*s.grain.At(p*2, q*2), 0.05, 0.5)
	}
	for k := range r.Scales {
		sc := &r.Scales[k]
		ink = max(ink, r.ink(sc, p, q, long, half))
		if m.Groove > 0 { // the flank that faces the light
			lit := r.ink(sc, p-sc.Line*0.6, q, long, half)
			body = body.Mix(m.Body.Times(1.8), 0.5*m.Groove*lit)
		}
	}
	ink = max(ink, face.ink.at(p, q))
	c := body.Mix(m.Ink, ink*wear)
	if face.scratches != nil {
		c = c.Times(1 + 0.6*face.scratches.at(p, q))
	}
	if g := s.Lighting.glare(p, q); g > 0 {
		c = texture.Colour{c[0] + float32(g), c[1] + float32(g), c[2] + float32(g)}
	}
	return c
}

// tone is how the body's light varies: streaks, grain, what it mirrors.
func (s *Scene) tone(p, q float64) float64 {
	m, k := &s.Ruler.Material, 1.0
	if m.Brush > 0 {
		k += m.Brush * (s.grain.At(p/6, q*9) + 0.5*s.grain.At(p/2, q*23))
	}
	if m.Grain {
		k += 0.12*s.grain.At(p/8, q*4) + 0.1*s.grain.At(p/3, q*11)
	}
	if m.Sheen > 0 {
		k += m.Sheen * s.grain.At(p/35, 7+q/60)
	}
	return max(0.1, k) * s.Lighting.mirror(p, q)
}

// Moved is the scene with the ruler so many mm further along its track, and what lies on it; what
// is behind it, the light and the camera stay.
func (s Scene) Moved(mm float64) Scene {
	s.Pose.About.X += mm
	s.Seed += math.Float64bits(mm)
	return s
}
