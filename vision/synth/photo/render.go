package photo

import "image"

// Render draws a scene. The picture is 8-bit and as displayed; it is the same for the same scene.
func Render(s Scene) (*image.RGBA, Truth) {
	return NewSet(&s).Render(&s)
}

// Render draws one frame of the set.
func (t *Set) Render(s *Scene) (*image.RGBA, Truth) {
	f, truth := t.prepare(s)
	return f.develop(), truth
}

// prepare draws the parts of one frame and works out its truth.
func (t *Set) prepare(s *Scene) (*frame, Truth) {
	r := place(s.Camera, s.Track, s.Pose, &s.Look)
	f := &frame{Set: t, scene: s, flash: float32(s.Flash.Power), ambient: float32(s.Flash.Power * s.Ambient)}
	if s.Unfired {
		f.flash = 0
	}
	if !s.NoRuler {
		f.addRuler(r)
	}
	return f, s.truth(r, t.block)
}
