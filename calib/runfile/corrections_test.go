package runfile

import (
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"sync"
	"testing"

	"leadmark/calib/input"
	"leadmark/vision/ruler"
)

func someCorrections() Corrections {
	p, l := ruler.Point{X: 2980.25, Y: 1400.75}, ruler.Line{A: ruler.Point{X: 10, Y: 20},
		B: ruler.Point{X: 900.5, Y: 30}}
	var c Corrections
	c = c.With(Correction{Frame: `IMG_0010 "x".JPG`, LeftOut: `a bee flew "through" \ <b>`})
	c = c.With(Correction{Frame: "IMG_0002.JPG", Front: &p, FrontU: 0.5, Ruler: &l})
	c.Trip = &TripCorrection{Line: l, U: 0.4e-3}
	return c
}

func TestCorrectionsReadBackAsTheyWereWritten(t *testing.T) {
	want := someCorrections()
	if want.Frames[0].Frame != "IMG_0002.JPG" {
		t.Errorf("not in the frames' order: %v", want.Frames)
	}
	want.Frames[1].FrontU = HandU // what a frame without a front end has
	got, err := ParseCorrections("corrections.toml", want.Text())
	if err != nil {
		t.Fatalf("%v\n%s", err, want.Text())
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got  %+v\nwant %+v", got, want)
	}
	if (Corrections{}).Text() != nil {
		t.Error("no corrections are written as a file")
	}
}

func TestBrokenCorrectionsAreRefused(t *testing.T) {
	head := "schema = \"leadmark/corrections/1\"\n"
	for _, c := range []struct{ text, want string }{
		{"[[frame]]\nfile = \"a.jpg\"\nleave_out = \"x\"\n", "schema"},
		{head + "[[frame]]\nfile = \"a.jpg\"\nfront = [1, 2]\n", "front_px"},
		{head + "[[frame]]\nfile = \"a.jpg\"\nfront_px = [1, 2, 3]\n", "front_px"},
		{head + "[[frame]]\nfile = \"a.jpg\"\nfront_px = [1, nan]\n", "front_px"},
		{head + "[[frame]]\nfile = \"../a.jpg\"\nleave_out = \"x\"\n", "not the name of a frame"},
		{head + "[[frame]]\nfile = \"a.jpg\"\nleave_out = \" \"\n", "say why"},
		{head + "[[frame]]\nfile = \"a.jpg\"\n", "nothing beside it"},
		{head + "[[frame]]\nfile = \"a.jpg\"\nruler_px = [[1, 1], [1, 1]]\n", "equal points"},
		{head + "[[frame]]\nfile = \"a.jpg\"\nleave_out = \"x\"\n[[frame]]\nfile = \"a.jpg\"\nleave_out = " +
			"\"y\"\n", "twice"},
		{head + "[trip]\nline_px = [[0, 0], [0, 9]]\n", "u_mm"},
		{head + "[[frame]\n", "corrections.toml:2"},
	} {
		_, err := ParseCorrections("corrections.toml", []byte(c.text))
		var e *input.Error
		if err == nil || !errors.As(err, &e) {
			t.Errorf("not refused: %s (%v)", c.text, err)
			continue
		}
		var said string
		for _, f := range input.Faults(err) {
			what, hint := input.Describe(f)
			said += what + " " + hint + "\n"
		}
		if !strings.Contains(said, c.want) {
			t.Errorf("%s\nsays %q, not %q", c.text, said, c.want)
		}
	}
}

func TestLoadFollowsCorrections(t *testing.T) {
	dir := folder(t, "run.toml", "method = \"drop\"\ntravel = \"right\"\n[conditions]\ndrop_mm = 400\n", "a.jpg",
		"", "b.jpg", "")
	plain, err := Load(dir, Overrides{})
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := Correct(t.Context(), dir, func(c Corrections) (Corrections, error) {
		c = c.With(Correction{Frame: "a.jpg", LeftOut: "a hand in the picture"})
		c.Trip = &TripCorrection{Line: ruler.Line{B: ruler.Point{Y: 100}}, U: 1e-3}
		return c, nil
	}); err != nil {
		t.Fatal(err)
	}
	r, err := Load(dir, Overrides{})
	if err != nil {
		t.Fatal(err)
	}
	if r.Digest == plain.Digest {
		t.Error("the digest does not tell a corrected run from another")
	}
	if r.Trip == nil || r.Trip.Line == nil || r.Trip.Line.B.Y != 100 || r.Trip.U != 1e-3 {
		t.Errorf("the trip place: %+v", r.Trip)
	}
	// Taken back, all is as it was, and no file is left.
	if _, _, err := Correct(t.Context(), dir, func(Corrections) (Corrections, error) {
		return Corrections{},
			nil
	}); err != nil {
		t.Fatal(err)
	}
	if again, err := Load(dir, Overrides{}); err != nil || again.Digest != plain.Digest {
		t.Errorf("taken back: %v", err)
	}
	if _, err := os.Lstat(filepath.Join(dir, CorrectionsFileName)); err == nil {
		t.Error("an empty file was left")
	}
}

func TestCorrectRefusesAndKeepsWhatIsThere(t *testing.T) {
	dir := folder(t, CorrectionsFileName, "schema = \"leadmark/corrections/1\"\n[[frame]]\nfile = "+
		"\"a.jpg\"\nleave_owt = \"x\"\n")
	before, _ := os.ReadFile(filepath.Join(dir, CorrectionsFileName))
	if _, _, err := Correct(t.Context(), dir, func(Corrections) (Corrections, error) {
		return Corrections{},
			nil
	}); err == nil {
		t.Error("a broken file was written over")
	}
	if after, _ := os.ReadFile(filepath.Join(dir, CorrectionsFileName)); string(after) != string(before) {
		t.Error("a broken file was changed")
	}
}

// Two at once lose nothing: each adds to what the other wrote.
func TestCorrectionsOfSeveralAtOnceAreAllKept(t *testing.T) {
	dir := t.TempDir()
	var wait sync.WaitGroup
	names := []string{"a.jpg", "b.jpg", "c.jpg", "d.jpg", "e.jpg", "f.jpg", "g.jpg", "h.jpg"}
	for _, name := range names {
		wait.Go(func() {
			if _, _, err := Correct(t.Context(), dir, func(c Corrections) (Corrections, error) {
				return c.With(Correction{Frame: name, LeftOut: "dark"}), nil
			}); err != nil {
				t.Error(err)
			}
		})
	}
	wait.Wait()
	c, err := LoadCorrections(dir)
	if err != nil || len(c.Frames) != len(names) {
		t.Errorf("%d of %d were kept: %v", len(c.Frames), len(names), err)
	}
}
