package shoot

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"leadmark/calib/input"
	"leadmark/calib/plan"
	"leadmark/fit/note"
	"leadmark/vision/animal"
	"leadmark/vision/frame"
)

// scaledSetup is a shoot whose scale comes from a run with these frames, as JSON.
func scaledSetup(t *testing.T, frames string) Setup {
	t.Helper()
	dir := t.TempDir()
	result := `{"schema": "leadmark/result/1", "trip_line_px": [[10, 0], [10, 400]], "frames": [` +
		frames + `]}`
	if err := os.WriteFile(filepath.Join(dir, "result.json"), []byte(result), 0o666); err != nil {
		t.Fatal(err)
	}
	s, err := Parse(dir,
		[]byte("rig = \"greenhouse\"\nsubject = \"bee.toml\"\ntravel = \"right\"\nscale_from = \"result.json\"\n"))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// checked looks at frames in which nothing is seen.
func checked(s Setup, frames ...frame.Frame) (Result, error) {
	look := func(context.Context, frame.Frame, float64, [2]float64) (animal.Sighting, error) {
		return animal.Sighting{}, nil
	}
	return Check(context.Background(), s, frames, nil, Options{Look: look, Plan: planned(1.2)})
}

// A scale and a trip line in pixels hold for pictures of the size they were read in only: others
// are refused, and said why.
func TestScaleHoldsForItsPictureSize(t *testing.T) {
	s := scaledSetup(t,
		`{"px_per_mm": 24.0, "width_px": 3000, "height_px": 2000}, {"px_per_mm": 8.0, "width_px": 1000, "height_px": 667},
		{"px_per_mm": 24.2, "width_px": 3000, "height_px": 2000}, {"width_px": 1000, "height_px": 667}`)
	if s.Scale != 24200 || s.Size != [2]int{3000, 2000} {
		t.Fatalf("scale %v of size %v", s.Scale, s.Size)
	}
	r, err := checked(s, frame.Frame{Name: "small.jpg", Width: 1000, Height: 667},
		frame.Frame{Name: "whole.jpg", Width: 3000, Height: 2000})
	if err != nil || len(r.Frames) != 2 || r.Frames[0].Name != "whole.jpg" ||
		r.Frames[0].Status != Empty {
		t.Fatalf("%+v, %v", r.Frames, err)
	}
	if f := r.Frames[1]; f.Name != "small.jpg" || f.Status != Refused ||
		f.Reason.Code != "other-size" || f.Reason.Number(0) != 1000 || f.Reason.Number(1) != 667 {
		t.Errorf("%+v", f)
	}
	var none *input.NoResult
	if _, err := checked(s, frame.Frame{Name: "small.jpg", Width: 1000,
		Height: 667}); !errors.As(err, &none) || !strings.Contains(none.Hint, "3000 x 2000") {
		t.Errorf("%v", err)
	}
}

// A result.json of an earlier version says nothing of the size, and a scale that is stated in
// shoot.toml has none either.
func TestScaleOfUnknownSize(t *testing.T) {
	s := scaledSetup(t, `{"px_per_mm": 24.0}`)
	if r, err := checked(s, frame.Frame{Name: "a.jpg", Width: 1000, Height: 667}); err != nil ||
		r.Frames[0].Status != Empty {
		t.Errorf("%+v, %v", r.Frames, err)
	}
}

// Frames without an animal are named, so that the picture of the empty set is not counted as an
// animal gone without a word.
func TestBareFramesAreNamed(t *testing.T) {
	r, err := checked(Setup{Scale: 1e4, Travel: [2]float64{1, 0},
		TripLine: [2][2]float64{{10, 0}, {10, 400}}}, frame.Frame{Name: "EMPTY.JPG", Width: 1000,
		Height: 667})
	if s := told(&r); err != nil || !strings.Contains(s, "1 (EMPTY.JPG; ") ||
		!strings.Contains(s, `as empty = "EMPTY.JPG"`) {
		t.Errorf("%v\n%s", err, s)
	}
	r.Setup.Empty = "IMG_0001.JPG"
	want := note.New("gone", 4, []string{"a", "b", "c"})
	if n := r.bareNote("gone", []string{"a", "b", "c", "d"}); !n.Same(want) {
		t.Error(n)
	}
}

// The plan is the profile's lens's; frames of another focal length are told of, those that state
// none or the same to the millimetre are not.
func TestOtherLens(t *testing.T) {
	r := &Result{Plan: plan.Plan{}}
	r.Plan.Request.Rig.Lens.Focal = 0.1
	for _, focal := range []float64{0, 0.1, 0.1004, 0.06, 0.06} {
		r.Frames = append(r.Frames, FrameResult{Frame: frame.Frame{Focal: focal}})
	}
	r.lensDoubt()
	if s := told(r); len(r.Warnings) != 1 || !strings.Contains(s, "60 mm: 2;") ||
		!strings.Contains(s, "profile has 100 mm") {
		t.Error(s)
	}
}

// What scale_from names is told as it was written, with what is wrong about it.
func TestScaleFromThatIsNone(t *testing.T) {
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "run-report"), 0o777); err != nil {
		t.Fatal(err)
	}
	for from, want := range map[string]string{"../none/result.json": "../none/result.json, which is not there",
		"run-report": "run-report, which is a folder"} {
		_, err := Parse(dir,
			[]byte("rig = \"greenhouse\"\ntravel = \"right\"\nscale_from = \""+from+"\"\n"))
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", from, err)
		}
	}
}
