package main

import (
	"bytes"
	"context"
	"sync/atomic"
	"testing"

	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// mostLooks is how often a frame is looked at: by itself, and where need be with what the others showed.
const mostLooks = 2

// Each frame of a run is looked at twice at the most, and never again once it is remembered.
func TestLooksAFrame(t *testing.T) {
	dir := smallRun(t, 5)
	looks := func() int {
		var n atomic.Int64
		var out, said bytes.Buffer
		a := newApp(&out, &said)
		look := a.Look
		a.Look = func(ctx context.Context, f frame.Frame, h ruler.Hint) (ruler.Sighting, error) {
			n.Add(1)
			return look(ctx, f, h)
		}
		if code := a.status([]string{"calibrate", dir, "--json"}); code != 0 {
			t.Fatalf("exit status %d: %s", code, said.String())
		}
		return int(n.Load())
	}
	const frames = 8
	first, again := looks(), looks()
	t.Logf("%d frames: %d looks, then %d", frames, first, again)
	if first < frames || first > mostLooks*frames || again != 0 {
		t.Errorf("%d frames: %d looks, then %d", frames, first, again)
	}
}
