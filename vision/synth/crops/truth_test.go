package crops

import (
	"image"
	"math"
	"testing"

	"leadmark/testdata"
	"leadmark/vision/synth/camera"
	"leadmark/vision/synth/plane"
	"leadmark/vision/synth/texture"
)

// faultless takes away what spoils a frame but its geometry.
func faultless(class string, number uint64) Frame {
	f := At(class, 3, number)
	s := &f.Scene
	s.Camera = camera.Camera{Blur: camera.Sigma{From: 0.7, To: 0.7}, Mosaic: camera.Whole, Quality: 100,
		Sensor: camera.Sensor{FullWell: 1e9}}
	s.Ruler.Material = materials()[0]
	s.Ruler.Words, s.pen.high = "", 0.01
	s.Lighting = Lighting{Level: 0.9}
	s.Covers, s.Fade = nil, 0 // even light: the middle of the ink is that of the time
	if class == "worn" {      // printed twice, and not rubbed off
		s.Ruler.Wear, s.Ruler.Scratches = 0, 0
		s.Ruler.Ghost, s.Ruler.GhostBy = 0.5, 0.2*s.Ruler.Scales[0].Step
	}
	f.Truth = s.Truth()
	return f
}

// middle is how far the middle of what is darker than white lies from a place, px along a direction.
func middle(im *image.RGBA, at, dir plane.Point, reach float64) float64 {
	var sum, weight float64
	for d := -reach; d <= reach; d += 0.05 {
		v := max(0, testdata.Green(im, at.Add(dir.Mul(-reach)))-testdata.Green(im, at.Add(dir.Mul(d))))
		sum, weight = sum+v*d, weight+v
	}
	return sum / weight
}

// The picture shows each graduation where the truth says it is.
func TestGraduationsLieWhereTheTruthSays(t *testing.T) {
	for _, class := range []string{"plain", "units", "tilted", "moving", "worn"} {
		n, worst, mean := 0, 0.0, 0.0
		for i := range uint64(6) {
			f := faultless(class, i)
			im, m := f.Scene.Draw(), f.Scene.Seen()
			for k := range f.Truth.Scales {
				for _, g := range f.Truth.Scales[k].Graduations {
					along, _ := m.Slope(m.Back(g.At))
					pitch := along.Len() * f.Truth.Scales[k].StepMM
					if !g.Seen || f.Scene.Motion > 0.6*f.Truth.Scales[k].StepMM || pitch < 6 ||
						!f.Scene.inside(g.At, pitch) || -f.Truth.Outside(g.At) < f.Truth.Scales[k].StepMM {
						continue
					}
					d := middle(im, g.At, along.Mul(1/along.Len()), 0.5*pitch) / pitch
					if math.IsNaN(d) {
						t.Fatalf("%s %d: no graduation at %v", class, i, g)
					}
					n, worst, mean = n+1, max(worst, math.Abs(d)), mean+d
				}
			}
		}
		mean /= float64(n)
		t.Logf("%s: %d graduations, mean %.4f of the pitch, worst %.3f", class, n, mean, worst)
		if n < 100 || math.Abs(mean) > 0.01 || worst > 0.15 {
			t.Errorf("%s: %d graduations, mean %.4f of the pitch, worst %.3f", class, n, mean, worst)
		}
	}
}

// The front end lies where the truth says: half of the light of both sides.
func TestFrontEndLiesWhereTheTruthSays(t *testing.T) {
	n := 0
	for _, class := range []string{"plain", "tilted", "units"} {
		for i := range uint64(6) {
			f := faultless(class, i)
			s := &f.Scene
			s.Ground = func(x, y float64) (c texture.Colour) { return c }
			s.Ruler.Hole, s.Motion = 0, 0
			im, m := s.Draw(), s.Seen()
			for _, q := range []float64{0.4, 0.6} {
				p := plane.Point{Y: q * s.Ruler.Width}
				at := m.At(p)
				along, _ := m.Slope(p)
				dir := along.Mul(1 / along.Len())
				if !f.Truth.FrontInView || !s.inside(at, 12) {
					continue
				}
				sum, white := 0.0, light(testdata.Green(im, at.Add(dir.Mul(5))))
				for d := -5.0; d < 5; d += 0.05 {
					sum += light(testdata.Green(im, at.Add(dir.Mul(d)))) / white * 0.05
				}
				if n++; math.Abs(sum-5) > 0.12 {
					t.Errorf("%s %d: the edge lies %.3f px beside its place", class, i, 5-sum)
				}
			}
		}
	}
	if n < 20 {
		t.Errorf("only %d edges were looked at", n)
	}
}

// light undoes the curve of sRGB.
func light(code float64) float64 {
	v := code / 255
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

// A ruler that moved on shows, at one place, what lay so much further behind its front end.
func TestMoved(t *testing.T) {
	f := faultless("tilted", 1)
	at := f.Truth.Scales[0].Graduations[12].At
	moved := f.Scene.Moved(3.5)
	truth := moved.Truth()
	was, is := f.Truth.Scales[0], truth.Scales[0]
	if d := math.Abs(is.Reading(at)-is.FrontMM) - math.Abs(was.Reading(at)-was.FrontMM); math.Abs(d-3.5) > 1e-6 {
		t.Errorf("the ruler moved by %.4f mm, want 3.5", d)
	}
	step := truth.FrontAt.Sub(f.Truth.FrontAt)
	if step.Dot(truth.Toward) < 0.9*step.Len() {
		t.Errorf("the front end went %v, not towards %v", step, truth.Toward)
	}
}
