package photo

import (
	"math"

	"leadmark/vision/ruler"
	"leadmark/vision/synth/paint"
)

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
		f.ghost = ghostOf(f.subject, way.Mul(s.Exposure))
	}
	f.subject = s.expose(f.subject, path)
	if s.Shadow > 0 {
		f.shadow = s.shadowOf(r, outline)
	}
	if s.Twin > 0 {
		f.addTwin(p, margin, path)
	}
}

// FrontVelocity returns the front end's velocity in the picture, px/s.
func (s *Scene) FrontVelocity() ruler.Point {
	return s.velocityPX(place(s.Camera, s.Track, s.Pose, &s.Look))
}

// velocityPX returns the front end's velocity in the picture, px/s.
func (s *Scene) velocityPX(r *placed) ruler.Point {
	const h = 0.1 * mm
	d := s.Track.Basis().A.Mul(-h)
	q := s.Camera.Project(r.front.Add(d)).Sub(s.Camera.Project(r.front.Sub(d)))
	return q.Mul(s.Speed / (2 * h))
}

// expose blurs what was painted sharp.
func (s *Scene) expose(l *paint.Layer, path []ruler.Point) *paint.Layer {
	if s.Disk > 0 {
		l.Defocus(s.Disk)
	}
	if s.Speed != 0 && path[len(path)-1].Sub(path[0]).Len() > 0.05 {
		l.Convolve(paint.Splat(path))
	}
	l.Gaussian(math.Sqrt(max(0, s.Softness*s.Softness-sampleVariance)))
	return l
}
