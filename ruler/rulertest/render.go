package rulertest

import (
	"image"
	"math"

	"leadmark/ruler"
)

// Render draws a scene. The picture is 8-bit and as displayed; it is the same for the same scene.
func Render(s Scene) (*image.RGBA, Truth) {
	return newSet(&s).render(&s)
}

// set is what stays the same from frame to frame: backdrop, still ruler, block.
type set struct {
	cam   Camera
	back  []float32 // linear red, green, blue of the backdrop in the flash's light
	block *layer
}

func newSet(s *Scene) *set {
	c := s.Camera
	t := &set{cam: c, back: make([]float32, 3*c.Width*c.Height)}
	t.drawBackdrop(s)
	if s.Block != nil {
		b := s.Block.paint(c, s.Track, s.Flash, uint32(s.Seed)+31)
		if s.Block.Front {
			t.block = b
		} else {
			t.lay(b)
		}
	}
	if s.Decoy != nil {
		p := painter{cam: c, ruler: place(c, s.Track, s.Decoy.Pose, &s.Decoy.Look), light: s.Flash, ref: s.Track.Trip, seed: uint32(s.Seed) + 57}
		l := p.paint(bounds(c, p.outline(), 8, 0))
		l.gaussian(s.Softness + 0.4)
		t.lay(l)
	}
	return t
}

// drawBackdrop fills the backdrop; the light on it changes slowly and is worked out on a coarse grid.
func (t *set) drawBackdrop(s *Scene) {
	c, b := t.cam, s.Backdrop
	z := s.Track.Trip.Z + b.Behind
	light := func(x, y int) float32 {
		p := c.At(ruler.Point{X: float64(x), Y: float64(y)}, z)
		return float32(s.Flash.irradiance(p, Vec{0, 0, 1}, s.Track.Trip))
	}
	step := 1
	if b.Kind == Foliage {
		step = 8 // nothing fine in it
	}
	const cell = 16
	for y := range c.Height {
		var l0, l1 float32
		var colour RGB
		for x := range c.Width {
			if x%cell == 0 {
				l0, l1 = light(x, y), light(x+cell, y)
			}
			if x%step == 0 {
				colour = b.at(float64(x), float64(y), uint32(s.Seed))
			}
			k := l0 + (l1-l0)*float32(x%cell)/cell
			o := t.back[3*(y*c.Width+x):][:3]
			o[0], o[1], o[2] = float32(colour.R)*k, float32(colour.G)*k, float32(colour.B)*k
		}
	}
}

// lay draws a layer onto the backdrop.
func (t *set) lay(l *layer) {
	if l == nil {
		return
	}
	r := l.rect.Intersect(image.Rect(0, 0, t.cam.Width, t.cam.Height))
	for y := r.Min.Y; y < r.Max.Y; y++ {
		row := l.row(y)[4*(r.Min.X-l.rect.Min.X):]
		out := t.back[3*(y*t.cam.Width+r.Min.X):]
		for i := range r.Dx() {
			a := 1 - row[4*i+3]
			for c := range 3 {
				out[3*i+c] = out[3*i+c]*a + row[4*i+c]
			}
		}
	}
}

// render draws one frame of the set.
func (t *set) render(s *Scene) (*image.RGBA, Truth) {
	r := place(s.Camera, s.Track, s.Pose, &s.Look)
	truth := s.truth(r, t.block)
	f := frame{set: t, scene: s, flash: float32(s.Flash.Power), ambient: float32(s.Flash.Power * s.Ambient)}
	if s.Unfired {
		f.flash = 0
	}
	if !s.NoRuler {
		f.addRuler(r)
	}
	return f.develop(), truth
}

// frame gathers the parts of one picture.
type frame struct {
	*set
	scene          *Scene
	flash, ambient float32 // exposure by each light
	subject, ghost *layer  // the ruler in the flash's light, and in the other light
	shadow         func(x, y int) float32
}

// addRuler draws the ruler with its blur, ghost and shadow.
func (f *frame) addRuler(r *placed) {
	s := f.scene
	p := painter{cam: s.Camera, ruler: r, light: s.Flash, ref: s.Track.Trip, grips: s.Grips, seed: uint32(s.Seed) + 101}
	way := s.velocityPX(r)
	var path []ruler.Point
	far := 0.0
	for _, m := range s.Flash.Pulse.moments(96) {
		q := way.Mul(m)
		path = append(path, q)
		far = math.Max(far, q.Len())
	}
	margin := int(far+3.5*s.Softness+s.Disk) + 4
	twin := way.Mul(s.Twin)
	outline := p.outline()
	area := bounds(s.Camera, outline, margin, margin+int(twin.Len()))
	if area.Empty() {
		return
	}
	f.subject = p.paint(area)
	if s.Ambient > 0 {
		f.ghost = f.subject.ghost(way.Mul(s.Exposure))
	}
	f.subject = s.expose(f.subject, path)
	if s.Twin > 0 {
		f.subject = s.addTwin(f.subject, p, margin, path)
	}
	if s.Shadow > 0 {
		f.shadow = s.shadowOf(r)
	}
}

// velocityPX returns the front end's velocity in the picture, px/s.
func (s *Scene) velocityPX(r *placed) ruler.Point {
	const h = 0.1 * mm
	d := s.Track.basis().a.mul(-h)
	q := s.Camera.Project(r.front.add(d)).Sub(s.Camera.Project(r.front.sub(d)))
	return q.Mul(s.Speed / (2 * h))
}

// expose blurs what was painted sharp.
func (s *Scene) expose(l *layer, path []ruler.Point) *layer {
	if s.Disk > 0 {
		l.smear(splat(disk(s.Disk)))
	}
	if s.Speed != 0 && path[len(path)-1].Sub(path[0]).Len() > 0.05 {
		l.smear(splat(path))
	}
	l.gaussian(s.Softness)
	return l
}

// addTwin adds the ruler as the second flash shows it, each flash giving half the light.
func (s *Scene) addTwin(first *layer, p painter, margin int, path []ruler.Point) *layer {
	second := *p.ruler
	second.front = second.front.sub(s.Track.basis().a.mul(s.Speed * s.Twin))
	second.inv = inverse(second.a, second.b, second.front)
	p.ruler = &second
	l := s.expose(p.paint(bounds(s.Camera, p.outline(), margin, margin)), path)
	both := newLayer(first.rect.Union(l.rect))
	for _, part := range []*layer{first, l} {
		for y := part.rect.Min.Y; y < part.rect.Max.Y; y++ {
			out := both.row(y)[4*(part.rect.Min.X-both.rect.Min.X):]
			for i, v := range part.row(y) {
				out[i] += v / 2
			}
		}
	}
	return both
}

// shadowOf returns the light the ruler leaves on the backdrop: its outline moved and soft.
func (s *Scene) shadowOf(r *placed) func(x, y int) float32 {
	c := s.Camera.Project(r.front)
	h := s.Camera.Project(s.Flash.Head)
	if s.Flash.Head.Z <= 0 {
		h = ruler.Point{X: s.Camera.Centre.X + s.Flash.Head.X*1e5, Y: s.Camera.Centre.Y + s.Flash.Head.Y*1e5}
	}
	off := c.Sub(h).Unit().Mul(s.Shadow)
	soft := s.Shadow / 3 * r.fu
	dark := 0.75 * (0.3 + 0.7*r.look.Opacity)
	return func(x, y int) float32 {
		rx, ry := s.Camera.ray(float64(x)-off.X, float64(y)-off.Y)
		u, v, _ := r.face(rx, ry)
		d := r.look.distance(u, v) / soft
		if d > 1 {
			return 1
		}
		t := math.Max(0, (1-d)/2)
		t = math.Min(1, t)
		return float32(1 - dark*t*t*(3-2*t))
	}
}
