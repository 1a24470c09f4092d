package live

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"

	"leadmark/calib/rig"
	"leadmark/cmd/leadmark/desk/places"
	"leadmark/fit/note"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// More runs than are followed at once make room for each other.
func TestManyRuns(t *testing.T) {
	root := t.TempDir()
	p, err := places.Open(root)
	if err != nil {
		t.Fatal(err)
	}
	a := &Runs{Rigs: rig.Store{Root: t.TempDir()}, Places: p, Program: func() string { return "test" },
		Look: func(_ context.Context, f frame.Frame, _ ruler.Hint) (ruler.Sighting, error) {
			return ruler.Sighting{Width: f.Width, Height: f.Height,
				Refusal: note.New("no-ruler")}, nil
		}}
	ctx, stop := context.WithCancel(t.Context())
	defer a.Wait()
	defer stop()
	for i := range mostRuns + 5 {
		name := fmt.Sprintf("run%d", i)
		drawRun(t, filepath.Join(root, name))
		r, err := a.Open(ctx, name)
		if err != nil {
			t.Fatal(err)
		}
		awaitResult(t, r)
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	if n := len(a.all); n > mostRuns {
		t.Errorf("%d runs are followed", n)
	}
}

// drawRun makes a run of one frame that shows nothing.
func drawRun(t *testing.T, dir string) {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 64, 48)), nil); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(dir, 0o777); err != nil {
		t.Fatal(err)
	}
	for name, data := range map[string][]byte{"a.jpg": b.Bytes(),
		"run.toml": []byte("method = \"drop\"\ntravel = \"right\"\n[conditions]\ndrop_mm = 400\n")} {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o666); err != nil {
			t.Fatal(err)
		}
	}
}

// awaitResult waits until the run was worked out.
func awaitResult(t *testing.T, r *Run) {
	t.Helper()
	changed, leave, err := r.Stream()
	if err != nil {
		t.Fatal(err)
	}
	defer leave()
	for {
		if s := r.State(0); s.Settled && len(s.Frames) > 0 {
			return
		}
		<-changed
	}
}
