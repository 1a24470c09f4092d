package main

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"

	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// Ctrl-C in the middle of the reading ends the run and leaves nothing behind.
func TestCancelledWhileReading(t *testing.T) {
	root := t.TempDir()
	t.Chdir(root)
	t.Setenv("LEADMARK_RIGS", filepath.Join(root, "rigs"))
	var out, stderr bytes.Buffer
	if err := run(context.Background(), []string{"rig", "new", "greenhouse"}, &out, &stderr); err != nil {
		t.Fatal(err)
	}
	writeFrames(t)
	out.Reset()
	ctx, stop := context.WithCancel(context.Background())
	a := newApp(&out, &stderr)
	a.Look = func(ctx context.Context, _ frame.Frame, _ ruler.Hint) (ruler.Sighting, error) {
		stop() // the person's Ctrl-C comes while a picture is looked at
		<-ctx.Done()
		return ruler.Sighting{}, ctx.Err()
	}
	err := a.run(ctx, []string{"calibrate", "night1", "--accept"})
	if !errors.Is(err, context.Canceled) || exitStatus(err) != statusNone {
		t.Errorf("status %d, %v", exitStatus(err), err)
	}
	stderr.Reset()
	if explain(&stderr, err); stderr.String() != "error: stopped before the end; nothing was changed\n" {
		t.Errorf("on stderr: %s", &stderr)
	}
	if out.Len() > 0 {
		t.Errorf("on stdout: %s", &out)
	}
	if entries, _ := os.ReadDir("."); len(entries) != 2 {
		t.Errorf("left behind: %v", entries)
	}
	if _, err := os.Stat("rigs/greenhouse/calibrations.jsonl"); !os.IsNotExist(err) {
		t.Error("the profile was changed")
	}
}

// writeFrames makes a run of three small pictures, night1.
func writeFrames(t *testing.T) {
	t.Helper()
	if err := os.Mkdir("night1", 0o777); err != nil {
		t.Fatal(err)
	}
	writeFile(t, "night1/run.toml", []byte("rig = \"greenhouse\"\nmethod = \"drop\"\ntravel = "+
		"\"down\"\n[conditions]\ndrop_mm = 400\n"))
	for _, name := range []string{"a.jpg", "b.jpg", "c.jpg"} {
		var b bytes.Buffer
		if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 64, 48)), nil); err != nil {
			t.Fatal(err)
		}
		writeFile(t, filepath.Join("night1", name), b.Bytes())
	}
}

func writeFile(t *testing.T, path string, text []byte) {
	t.Helper()
	if err := os.WriteFile(path, text, 0o666); err != nil {
		t.Fatal(err)
	}
}
