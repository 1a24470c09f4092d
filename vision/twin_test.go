package vision

import (
	"math"
	"math/rand/v2"
	"testing"

	"leadmark/vision/pixel"
	"leadmark/vision/pixel/native"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/reading"
	"leadmark/vision/synth/looks"
	"leadmark/vision/synth/photo"
)

// twinScene is an invented frame of two flashes.
func twinScene(rnd *rand.Rand, i int) photo.Scene {
	span := func(a, b float64) float64 { return a + (b-a)*rnd.Float64() }
	const deg = math.Pi / 180
	rulers := []looks.Look{looks.WhitePlastic(), looks.PaperStrip(), looks.Steel(), looks.BlackPlastic(), looks.Tape()}
	travels := []string{"right", "down", "left", "up"}
	s := photo.Scene{Look: rulers[i%len(rulers)], Speed: span(0.8, 4), Exposure: 0.005, Softness: span(0.6, 1.1),
		Shadow: 30}
	s.Camera = photo.Camera{Width: 1200, Height: 800, FocalPX: 4000, Centre: ruler.Point{X: 600, Y: 400}}
	travel := travels[(i/len(rulers))%4]
	if travel == "up" || travel == "down" {
		s.Camera.Width, s.Camera.Height, s.Camera.Centre = 800, 1200, ruler.Point{X: 400, Y: 600}
	}
	perMM := span(8, 16)
	s.Track = photo.Track{Trip: photo.Vec{Z: 4000 / (perMM * 1000)}, Travel: travel, Tilt: span(-6, 6) * deg,
		Yaw: span(-5, 5) * deg, Roll: span(-5, 5) * deg}
	s.Pose = photo.Pose{Advance: span(0, 12) * 1e-3, Lateral: span(-3, 3) * 1e-3}
	s.Twin, s.TwinGain, s.Accel = 2e-3, math.Exp(span(-0.7, 0.7)), 9.8
	s.Flash = photo.Flash{Head: photo.Vec{X: span(-0.2, 0.2), Y: -0.2, Z: 0}, Power: 0.85, Fill: 0.1,
		Pulse: photo.TailFor(span(40, 110) * 1e-6)}
	s.Sensor = photo.Sensor{FullWell: span(5000, 15000), Read: 10, Vignette: 0.3}
	kinds := []photo.BackdropKind{photo.Cloth, photo.Card, photo.Foliage}
	s.Backdrop = photo.Backdrop{Kind: kinds[i%3], Behind: 0.1}
	s.Seed, s.Shot = rnd.Uint64(), uint64(i)
	return s
}

// TestTwinFlash reads invented frames in which two flashes show the ruler twice: how far it moved
// must be right, or the frame refused. scripts/flashstudy draws more.
func TestTwinFlash(t *testing.T) {
	n, seed := 12, uint64(3)
	rnd := rand.New(rand.NewPCG(seed, 4))
	readable, read, all, square := 0, 0, 0, 0.0
	for i := range n {
		s := twinScene(rnd, i)
		im, truth := photo.Render(s)
		front := s.Look.Front()
		spec := ruler.Spec{Graduation: s.Look.Graduation(), Front: &front, Toward: wayOf(s.Track.Travel), Twin: true}
		r := reading.Interpret(sight(native.Library{}, whole(pixel.GrayOf(im)), ruler.Hint{Twin: &spec}), spec)
		if truth.Readable {
			readable++
		}
		if r.Status != ruler.StatusRead || r.Twin == nil {
			t.Logf("%d %s %s: %s", i, s.Look.Name, truth.Why, r.Reason)
			continue
		}
		if truth.Readable {
			read++
		}
		all++
		moved := s.Speed*s.Twin + s.Accel*s.Twin*s.Twin/2
		z := (r.Twin.Moved - moved) / r.Twin.U
		square += z * z
		if !(math.Abs(z) <= 5) {
			t.Errorf("%d %s: moved %.3f mm (u %.3f), truly %.3f", i, s.Look.Name, 1e3*r.Twin.Moved, 1e3*r.Twin.U,
				1e3*moved)
		}
		for _, g := range truth.Graduations {
			if off := r.Scale.Reading(r.Scale.Along(g.PX))*1e3 - g.ReadingMM; !(math.Abs(off) < 0.5) {
				t.Errorf("%d %s: graduation %g mm is read %.2f mm off", i, s.Look.Name, g.ReadingMM, off)
				break
			}
		}
	}
	// of so few frames, chance lays it between 0.6 and 1.4 of what it is
	spread := math.Sqrt(square / float64(all))
	t.Logf("%d of %d readable frames read; error over stated u: %.2f", read, readable, spread)
	if 2*readable < n || float64(read) < 0.8*float64(readable) || !(spread >= 0.4 && spread <= 1.7) {
		t.Errorf("read %d of %d, error over stated u %.2f", read, readable, spread)
	}
}

func wayOf(travel string) ruler.Point {
	return map[string]ruler.Point{"right": {X: 1}, "left": {X: -1}, "down": {Y: 1}, "up": {Y: -1}}[travel]
}

// One flash shows the ruler once: what it moved is not to be made up.
func TestOneFlashIsNoTwin(t *testing.T) {
	rnd, seen := rand.New(rand.NewPCG(8, 9)), 0
	for i := range 5 {
		s := twinScene(rnd, i)
		s.Twin = 0
		im, truth := photo.Render(s)
		front := s.Look.Front()
		spec := ruler.Spec{Graduation: s.Look.Graduation(), Front: &front, Toward: wayOf(s.Track.Travel), Twin: true}
		r := reading.Interpret(sight(native.Library{}, whole(pixel.GrayOf(im)), ruler.Hint{Twin: &spec}), spec)
		if r.Status != ruler.StatusRefused {
			t.Errorf("%s: %s", s.Look.Name, r.Status)
		}
		if r.Reason.Code == "twin-not-seen" && truth.Readable {
			seen++
		}
	}
	if seen < 3 {
		t.Errorf("only %d of 5 are named twin-not-seen", seen)
	}
}
