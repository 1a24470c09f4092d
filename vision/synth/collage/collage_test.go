package collage

import (
	"image"
	"math"
	"path/filepath"
	"testing"

	"leadmark/testdata"
	"leadmark/vision/synth/camera"
	"leadmark/vision/synth/plane"
)

// beside is how far the middle of a dark or light line lies from a place, px along a direction; ok
// is false where there is none.
func beside(im *image.RGBA, at, dir plane.Point, reach float64) (d float64, ok bool) {
	var paper, sum, weight float64
	for _, s := range []float64{-1, 1} {
		paper += testdata.Green(im, at.Add(dir.Mul(s*reach))) / 2
	}
	sign := math.Copysign(1, paper-testdata.Green(im, at))
	for d := -reach; d <= reach; d += 0.05 {
		v := max(0, sign*(paper-testdata.Green(im, at.Add(dir.Mul(d)))))
		sum, weight = sum+v*d, weight+v
	}
	return sum / weight, weight*0.05 > 8
}

// TestCollages reads the photographs once for all.
func TestCollages(t *testing.T) {
	testdata.Photographs(t, "rulers-more")
	s, err := Load(filepath.Dir(testdata.Photographs(t, "rulers")))
	if err != nil {
		t.Fatal(err)
	}
	t.Run("show what the truth says", func(t *testing.T) { showTruth(t, s) })
	t.Run("advance as runs", func(t *testing.T) { advance(t, s) })
}

// showTruth holds that frames show the graduations where the truth says, by a measure of their own: as well as
// truth.json knows them, a third of a pixel of the photograph or so.
func showTruth(t *testing.T, s *Set) {
	for i, r := range s.rulers {
		n, mean, square := 0, 0.0, 0.0
		{
			f := s.At(4, uint64(i))
			f.Scene.Camera = camera.Camera{Blur: camera.Sigma{From: 0.4, To: 0.4}, Mosaic: camera.Whole, Quality: 100,
				Sensor: camera.Sensor{FullWell: 1e9}}
			f.Scene.motion, f.Scene.shadow = 0, 0
			im, m := f.Scene.Draw(), f.Scene.toFrame()
			for _, g := range f.Truth.Scales[0].Graduations {
				along, _ := m.Slope(m.Inverse().At(g.At))
				pitch := along.Len() * f.Truth.Scales[0].StepMM
				if !f.Scene.in(g.At, pitch+2) ||
					f.Truth.Outside(g.At) > -2*f.Truth.Scales[0].StepMM {
					continue
				}
				if d, ok := beside(im, g.At, along.Mul(1/along.Len()), 0.5*pitch); ok {
					n, mean, square = n+1, mean+d/pitch, square+d*d/pitch/pitch
				}
			}
		}
		mean, square = mean/float64(n), math.Sqrt(square/float64(n))
		t.Logf("%s: %d graduations, mean %.3f of the pitch, r.m.s. %.3f", r.Name, n, mean, square)
		if n < 20 || math.Abs(mean) > 0.04 || square > 0.12 {
			t.Errorf("%s: %d graduations, mean %.3f of the pitch, r.m.s. %.3f", r.Name, n, mean, square)
		}
	}
}

// advance holds that a run's frames differ by the advances that were asked for, by the truth's own reading of one place.
func advance(t *testing.T, s *Set) {
	for i, r := range s.rulers {
		frames := s.Run(5, uint64(i), []float64{0, 3.5, -2})
		if len(frames) != 3 {
			t.Fatalf("%d frames, want 3", len(frames))
		}
		at := frames[0].Truth.Scales[0].Graduations[10].At
		first := frames[0].Truth.Scales[0]
		// The ruler goes towards its front: what is read at one place goes away from the front's reading.
		way := math.Copysign(1, first.Reading(at)-first.FrontMM)
		for k, want := range []float64{0, 3.5, -2} {
			got := way * (frames[k].Truth.Scales[0].Reading(at) - first.Reading(at))
			if math.Abs(got-want) > 0.15 { // truth.json and the print
				t.Errorf("%s: frame %d advanced %.3f mm, want %.3f", r.Name, k, got, want)
			}
		}
	}
}
