package photo

import (
	"image"

	"leadmark/vision/ruler"
)

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
	// The shadow falls away from the head; a head beside or behind the camera has no picture of its
	// own.
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
	d := h.ruler.look.Distance(u, v) / h.soft
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
