package main

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"leadmark/scripts/claim"
)

// A time counts for nothing where the work was not done: programs that fail, that do nothing, and
// that do a part.
func TestWorkThatWasNotDone(t *testing.T) {
	dir := t.TempDir()
	program := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte("#!/bin/sh\n"+text), 0o755); err != nil {
			t.Fatal(err)
		}
		return path
	}
	picture := filepath.Join(dir, "a.JPG")
	f, err := os.Create(picture)
	if err == nil {
		err = errors.Join(jpeg.Encode(f, image.NewGray(image.Rect(0, 0, 4, 2)), nil), f.Close())
	}
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct{ text, want string }{
		"fails":   {"echo no such flag >&2\nexit 1", "no such flag"},
		"nothing": {"exit 0", "wrote no picture"},
		"a part":  {`printf 'P5\n4 2\n255\n1234567'`, "7 bytes"},
		"warns":   {`printf 'P5\n4 2\n255\n12345678'; echo corrupt >&2`, "corrupt"},
	} {
		_, err := options{djpeg: program(name, c.text)}.decoding([]string{picture})
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("djpeg that %s: %v", name, err)
		}
	}
	if _, err := (options{djpeg: program("whole", `printf 'P5\n4 2\n255\n12345678'`)}).decoding([]string{picture}); err != nil {
		t.Error(err)
	}
	for name, text := range map[string]string{"fails": "exit 1", "nothing": "exit 0",
		"a part": `mkdir "$4"; echo '{"frames": [{"status": "read"}]}' >"$4/result.json"`,
		"nothing looked at": `mkdir "$4" "$(dirname "$2")/.run.seen"
			echo '{"frames": [{"status": "read"}, {"status": "read"}]}' >"$4/result.json"`} {
		o := options{program: program(name, text), dir: dir}
		if _, _, err := o.calibrated(filepath.Join(dir, "run"), 2); err == nil {
			t.Errorf("calibrate that %s: no error", name)
		}
	}
}

func TestTurnAbout(t *testing.T) {
	var order []string
	of := func(name string, seconds ...float64) side {
		n := 0
		return func() (took, error) {
			order, n = append(order, name), n+1
			return took{cpu: seconds[(n-1)%len(seconds)]}, nil
		}
	}
	tt, err := turnAbout(3, of("a", 2, 9, 4), of("b", 1, 3, 1))
	if f := tt.ratio(cpu); err != nil || f.Value != 3 || f.Low != 2 || f.High != 4 || f.N != 3 {
		t.Errorf("%+v, %v", f, err)
	}
	if got := strings.Join(order, ""); got != "abbaab" {
		t.Errorf("the order was %s", got)
	}
	if _, err := turnAbout(1, of("a", 1), of("b", 0)); err == nil {
		t.Error("a side that took no time passes")
	}
	broken := errors.New("broken")
	if _, err := turnAbout(2, func() (took, error) { return took{cpu: 1}, broken }, of("b", 1)); !errors.Is(err, broken) {
		t.Errorf("a side that fails: %v", err)
	}
	var s claim.Study
	s.Hold("ratio of no turns", turns{}.ratio(cpu), claim.AtMost(9))
	if s.Status() == 0 {
		t.Error("no turns keep a limit")
	}
}

func TestArguments(t *testing.T) {
	for _, args := range []string{"", "swim", "-turns -1 plan", "-grow 10 grow", "-grow 100,50 grow", "-frames 3 check", "-no plan"} {
		if _, _, err := arguments(strings.Fields(args)); err == nil {
			t.Errorf("%q is taken", args)
		}
	}
}

// Frames made of the same picture show different ones.
func TestGrown(t *testing.T) {
	const frames = 5
	run, many := t.TempDir(), filepath.Join(t.TempDir(), "many")
	var picture bytes.Buffer
	if err := encode(&picture, image.NewRGBA(image.Rect(0, 0, 64, 48))); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{"run.toml": "", "shots.csv": "frame,use\nA.JPG,yes\n", "A.JPG": picture.String()} {
		if err := os.WriteFile(filepath.Join(run, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	if err := grown(run, many, frames); err != nil {
		t.Fatal(err)
	}
	files, err := pictures(many)
	different := map[string]bool{}
	for _, f := range files {
		data, _ := os.ReadFile(f)
		shown, err := jpeg.Decode(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		text := ""
		for x := range 64 {
			text += fmt.Sprint(shown.At(x, 20))
		}
		different[text] = true
	}
	if err != nil || len(different) != frames {
		t.Errorf("%d different pictures of %d (%v)", len(different), frames, err)
	}
}
