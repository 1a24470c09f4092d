package photo

import (
	"image"

	"leadmark/vision/ruler"
	"leadmark/vision/synth/paint"
)

// Set is what stays the same from frame to frame: backdrop, still ruler, block.
type Set struct {
	cam   Camera
	back  []float32 // linear red, green, blue of the backdrop in the flash's light
	block *paint.Layer
}

// NewSet draws what stays the same in all scenes of one camera.
func NewSet(s *Scene) *Set {
	c := s.Camera
	t := &Set{cam: c, back: make([]float32, 3*c.Width*c.Height)}
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
		l.Gaussian(s.Softness + 0.4)
		t.lay(l)
	}
	return t
}

// drawBackdrop fills the backdrop. Its texture is fixed in space (counted from the principal point), so
// that a camera that moves sees it move.
func (t *Set) drawBackdrop(s *Scene) {
	c, b := t.cam, s.Backdrop
	seed := uint32(s.Seed)
	tint := func(x, y int) paint.RGB {
		return b.at((float64(x)-c.Centre.X)/(1+c.Zoom), (float64(y)-c.Centre.Y)/(1+c.Zoom), seed)
	}
	if b.Kind == Foliage { // nothing fine in it
		tint = smooth(tint, c.Width, c.Height)
	}
	z := s.Track.Trip.Z + b.Behind
	light := smooth(func(x, y int) paint.RGB {
		p := c.At(ruler.Point{X: float64(x), Y: float64(y)}, z)
		return paint.Grey(s.Flash.Irradiance(p, Vec{0, 0, 1}, s.Track.Trip))
	}, c.Width, c.Height)
	for y := range c.Height {
		for x := range c.Width {
			colour := tint(x, y).Mul(light(x, y).R)
			o := t.back[3*(y*c.Width+x):][:3]
			o[0], o[1], o[2] = float32(colour.R), float32(colour.G), float32(colour.B)
		}
	}
}

// smooth works f out on a coarse grid and returns it joined up linearly in between.
func smooth(f func(x, y int) paint.RGB, w, h int) func(x, y int) paint.RGB {
	const cell = 8
	nx := w/cell + 2
	grid := make([]paint.RGB, nx*(h/cell+2))
	for i := range grid {
		grid[i] = f(i%nx*cell, i/nx*cell)
	}
	return func(x, y int) paint.RGB {
		i := y/cell*nx + x/cell
		tx, ty := float64(x%cell)/cell, float64(y%cell)/cell
		return paint.Mix(paint.Mix(grid[i], grid[i+1], tx), paint.Mix(grid[i+nx], grid[i+nx+1], tx), ty)
	}
}

// lay draws a layer onto the backdrop.
func (t *Set) lay(l *paint.Layer) {
	if l == nil {
		return
	}
	r := l.Rect.Intersect(image.Rect(0, 0, t.cam.Width, t.cam.Height))
	for y := r.Min.Y; y < r.Max.Y; y++ {
		row := l.Row(y)[4*(r.Min.X-l.Rect.Min.X):]
		out := t.back[3*(y*t.cam.Width+r.Min.X):]
		for i := range r.Dx() {
			a := 1 - row[4*i+3]
			for c := range 3 {
				out[3*i+c] = out[3*i+c]*a + row[4*i+c]
			}
		}
	}
}
