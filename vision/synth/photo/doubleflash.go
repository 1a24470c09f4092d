package photo

import (
	"image"

	"leadmark/vision/ruler"
	"leadmark/vision/synth/paint"
)

// twinMoved is how far the ruler moves from the first flash to the second, m.
func (s *Scene) twinMoved() float64 { return s.Speed*s.Twin + s.Accel*s.Twin*s.Twin/2 }

// addTwin adds what the second flash shows. Both together give Flash.Power.
func (f *frame) addTwin(p painter, margin int, path []ruler.Point) {
	s := f.scene
	gain := s.TwinGain
	if gain == 0 {
		gain = 1
	}
	second := *p.ruler
	second.front = second.front.Sub(s.Track.Basis().A.Mul(s.twinMoved()))
	second.inv = inverse(second.A, second.B, second.front)
	p.ruler = &second
	e := &exposure{share: float32(gain / (1 + gain))}
	outline := p.outline()
	e.subject = paint.NewLayer(image.Rectangle{})
	if area := bounds(s.Camera, outline, margin, margin); !area.Empty() {
		e.subject = s.expose(p.paint(area), path)
	}
	if s.Shadow > 0 {
		e.shadow = s.shadowOf(&second, outline)
	}
	f.twin = e
}
