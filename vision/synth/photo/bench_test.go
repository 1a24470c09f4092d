package photo

import (
	"testing"

	"leadmark/vision/synth/looks"
)

// 24 megapixels with the ruler right across: a few seconds on one core is what is asked.
func BenchmarkLargeFrame(b *testing.B) {
	s := plainScene()
	s.Camera = Camera{Width: 6000, Height: 4000, FocalPX: 12500, Centre: s.Camera.Centre.Mul(4), K1: -0.02}
	s.Look, s.Backdrop = looks.WoodRule(), Backdrop{Kind: Soil, Behind: 0.1}
	s.Track.Tilt, s.Pose.Advance, s.Speed, s.Shadow = 0.1, 0.11, 2, 60
	s.Sensor = Sensor{FullWell: 10000, Read: 10, Vignette: 0.5}
	for b.Loop() {
		Render(s)
	}
}
