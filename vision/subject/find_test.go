package subject

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"leadmark/vision/animal"
	"leadmark/vision/frame"
	"leadmark/vision/pixel/native"
	"leadmark/vision/synth/animals"
)

const drawnLength = 150.0 // px

// drawnFrame draws a scene to a file, with the truth of its animals.
func drawnFrame(t *testing.T, scene animals.Scene) (frame.Frame, []animals.Truth) {
	t.Helper()
	img, truth := animals.Render(scene)
	data, err := native.Library{}.EncodeJPEG(img, 95)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "a.jpg")
	if err := os.WriteFile(path, data, 0o666); err != nil {
		t.Fatal(err)
	}
	f, refused := frame.Open(path)
	if refused != nil {
		t.Fatal(refused)
	}
	return f, truth
}

// Animals before an unevenly lit set with shadow, where they are and as far as they are in the picture:
// noses foremost along the travel without antennae, cut by the sides that cut them and not by one
// a dozen pixels away; no animal where there is none, nor where there is a speck of one.
func TestFindsAnimals(t *testing.T) {
	set := animals.Scene{Width: 640, Height: 440, Ground: animals.Blue, Uneven: 0.3, Shadow: 0.3, Spill: 0.2,
		FullWell: 12000, Gain: 1, Seed: 5}
	empty, _ := drawnFrame(t, set)
	finder, err := Learn(t.Context(), native.Library{}, nil, &empty)
	if err != nil {
		t.Fatal(err)
	}
	one := func(x, y, length float64) []animals.Animal {
		return []animals.Animal{{Kind: animals.Bee, Length: length, Nose: [2]float64{x, y}, Defocus: 0.6, Seed: 9}}
	}
	for name, c := range map[string]struct {
		animals []animals.Animal
		cut     []string
		found   int
	}{
		"whole":                  {one(400, 200, drawnLength), nil, 1},
		"a dozen px from a side": {one(610, 200, drawnLength), nil, 1},
		"a third of one":         {one(740, 200, drawnLength), []string{animal.Right}, 1},
		"cut in front":           {one(680, 200, drawnLength), []string{animal.Right}, 1},
		"cut behind":             {one(90, 200, drawnLength), []string{animal.Left}, 1},
		"cut below":              {one(400, 425, drawnLength), []string{animal.Bottom}, 1},
		"two":                    {append(one(300, 120, drawnLength), one(450, 320, drawnLength)...), nil, 2},
		"a speck":                {one(400, 200, 0.12*drawnLength), nil, 0},
		"none":                   {nil, nil, 0},
	} {
		scene := set
		scene.Seed, scene.Gain, scene.Animals = 77, 1.04, c.animals
		f, truth := drawnFrame(t, scene)
		seen, err := finder.Look(t.Context(), f, Hint{Length: drawnLength, Travel: animal.Point{X: 1}})
		if err != nil || seen.Refusal.Code != "" || len(seen.Found) != c.found {
			t.Errorf("%s: %d found, %v, %v", name, len(seen.Found), seen.Refusal, err)
			continue
		}
		if c.found != 1 {
			continue
		}
		a := seen.Found[0]
		if !slices.Equal(a.Touches, c.cut) {
			t.Errorf("%s: cut by %v", name, a.Touches)
		}
		if c.cut == nil && !(math.Abs(a.Nose.X-truth[0].Front) < 2.5) {
			t.Errorf("%s: the nose is at %.1f px, truly at %.1f", name, a.Nose.X, truth[0].Front)
		}
		if truth[0].Area < 3000 { // of so little, a leg that is lost is much
			continue
		}
		if !(math.Abs(a.Area/float64(truth[0].Area)-1) < 0.08) {
			t.Errorf("%s: %.0f px of it, truly %d", name, a.Area, truth[0].Area)
		}
		box := [4]float64{a.Box[0].X, a.Box[1].X, a.Box[0].Y, a.Box[1].Y}
		for i := range box {
			if !(math.Abs(box[i]-truth[0].Box[i]) < 4) {
				t.Errorf("%s: in the box %v, truly %v", name, box, truth[0].Box)
				break
			}
		}
	}
}
