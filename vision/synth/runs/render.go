package runs

import (
	"image"
	"math"

	"leadmark/vision/ruler"
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
		p := painter{cam: c, ruler: place(c, s.Track, s.Decoy.Pose, &s.Decoy.Look), light: s.Flash,
			ref: s.Track.Trip, seed: uint32(s.Seed) + 57}
		l := p.paint(bounds(c, p.outline(), 8, 0))
		l.gaussian(s.Softness + 0.4)
		t.lay(l)
	}
	return t
}

// drawBackdrop fills the backdrop. Its texture is fixed in space (counted from the principal point), so
// that a camera that moves sees it move.
func (t *set) drawBackdrop(s *Scene) {
	c, b := t.cam, s.Backdrop
	seed := uint32(s.Seed)
	tint := func(x, y int) RGB {
		return b.at((float64(x)-c.Centre.X)/(1+c.Zoom), (float64(y)-c.Centre.Y)/(1+c.Zoom), seed)
	}
	if b.Kind == Foliage { // nothing fine in it
		tint = smooth(tint, c.Width, c.Height)
	}
	z := s.Track.Trip.Z + b.Behind
	light := smooth(func(x, y int) RGB {
		p := c.At(ruler.Point{X: float64(x), Y: float64(y)}, z)
		return grey(s.Flash.irradiance(p, Vec{0, 0, 1}, s.Track.Trip))
	}, c.Width, c.Height)
	for y := range c.Height {
		for x := range c.Width {
			colour := tint(x, y).mul(light(x, y).R)
			o := t.back[3*(y*c.Width+x):][:3]
			o[0], o[1], o[2] = float32(colour.R), float32(colour.G), float32(colour.B)
		}
	}
}

// smooth works f out on a coarse grid and returns it joined up linearly in between.
func smooth(f func(x, y int) RGB, w, h int) func(x, y int) RGB {
	const cell = 8
	nx := w/cell + 2
	grid := make([]RGB, nx*(h/cell+2))
	for i := range grid {
		grid[i] = f(i%nx*cell, i/nx*cell)
	}
	return func(x, y int) RGB {
		i := y/cell*nx + x/cell
		tx, ty := float64(x%cell)/cell, float64(y%cell)/cell
		return mix(mix(grid[i], grid[i+1], tx), mix(grid[i+nx], grid[i+nx+1], tx), ty)
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
	f, truth := t.prepare(s)
	return f.develop(), truth
}

// prepare draws the parts of one frame and works out its truth.
func (t *set) prepare(s *Scene) (*frame, Truth) {
	r := place(s.Camera, s.Track, s.Pose, &s.Look)
	f := &frame{set: t, scene: s, flash: float32(s.Flash.Power), ambient: float32(s.Flash.Power * s.Ambient)}
	if s.Unfired {
		f.flash = 0
	}
	if !s.NoRuler {
		f.addRuler(r)
	}
	return f, s.truth(r, t.block)
}

// frame gathers the parts of one picture.
type frame struct {
	*set
	scene          *Scene
	flash, ambient float32 // exposure by each light
	subject, ghost *layer  // the ruler in the flash's light, and in the other light
	shadow         *shadow
	twin           *exposure // by the second flash of a twin; nil for one flash
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
	outline := p.outline()
	area := bounds(s.Camera, outline, margin, margin)
	if area.Empty() {
		return
	}
	f.subject = p.paint(area)
	if s.Ambient > 0 {
		f.ghost = f.subject.ghost(way.Mul(s.Exposure))
	}
	f.subject = s.expose(f.subject, path)
	if s.Shadow > 0 {
		f.shadow = s.shadowOf(r, outline)
	}
	if s.Twin > 0 {
		f.addTwin(p, margin, path)
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
		l.defocus(s.Disk)
	}
	if s.Speed != 0 && path[len(path)-1].Sub(path[0]).Len() > 0.05 {
		l.smear(splat(path))
	}
	l.gaussian(math.Sqrt(max(0, s.Softness*s.Softness-sampleVariance)))
	return l
}

// shadow is the light the ruler leaves on the backdrop: its outline moved and soft.
type shadow struct {
	cam        Camera
	ruler      *placed
	off        ruler.Point
	soft, dark float64
	rect       image.Rectangle // nothing falls outside
}

func (s *Scene) shadowOf(r *placed, outline []ruler.Point) *shadow {
	c := s.Camera.Project(r.front)
	// The shadow falls away from the head; a head beside or behind the camera has no picture of its own.
	h := ruler.Point{X: s.Camera.Centre.X + s.Flash.Head.X*1e5, Y: s.Camera.Centre.Y + s.Flash.Head.Y*1e5}
	soft := s.Shadow / 3
	if s.Penumbra > 0 {
		soft = s.Penumbra
	}
	sh := &shadow{cam: s.Camera, ruler: r, off: c.Sub(h).Unit().Mul(s.Shadow),
		soft: soft * r.front.Z / s.Camera.FocalPX, dark: 0.75 * (0.3 + 0.7*r.look.Opacity)}
	sh.rect = bounds(s.Camera, outline, int(2*s.Shadow)+2, 0)
	return sh
}

// at returns the part of the flash's light that reaches the backdrop at a pixel.
func (h *shadow) at(x, y int) float32 {
	rx, ry := h.cam.ray(float64(x)-h.off.X, float64(y)-h.off.Y)
	u, v, _ := h.ruler.face(rx, ry)
	d := h.ruler.look.distance(u, v) / h.soft
	if d > 1 {
		return 1
	}
	t := min(1, (1-d)/2)
	return float32(1 - h.dark*t*t*(3-2*t))
}

// row darkens one line of the backdrop's light. A shadow is soft, so it is worked out at every
// fourth pixel.
func (h *shadow) row(light []float32, y int) {
	if h == nil || y < h.rect.Min.Y || y >= h.rect.Max.Y {
		return
	}
	for x := h.rect.Min.X; x < h.rect.Max.X; x += coarse {
		a, b := h.at(x, y), h.at(x+coarse, y)
		if a == 1 && b == 1 {
			continue
		}
		for i := range min(coarse, h.rect.Max.X-x) {
			k := a + (b-a)*float32(i)/coarse
			o := light[3*(x+i):][:3]
			o[0], o[1], o[2] = o[0]*k, o[1]*k, o[2]*k
		}
	}
}
