package calib

import (
	"context"
	"path/filepath"
	"testing"

	"leadmark/calib/read/cache"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// What the first frames of a run settled counts only while they are there: other pictures under their names settle it anew.
func TestWhatIsSettledGoesWithItsFrames(t *testing.T) {
	m := cache.Open(filepath.Join(t.TempDir(), "night1"), "one")
	s := &reader{o: Options{Memory: m}, frames: []FrameResult{{Frame: frame.Frame{Name: "a.jpg", Digest: "aa"}}, {Frame: frame.Frame{Name: "b.jpg", Digest: "bb"}}}}
	m.KeepOfRun(specOf(s.run).String(), Settled{Scouts: s.digests([]int{0, 1})})
	if _, ok := s.settledBefore(); !ok {
		t.Error("what these frames settled does not count")
	}
	s.frames[1].Digest = "another"
	if _, ok := s.settledBefore(); ok {
		t.Error("what a picture settled that is no longer there counts")
	}
}

// A frame whose file does not hold the picture that was listed is refused by itself, and nothing of it is remembered.
func TestALookAtAReplacedFrameIsNotRemembered(t *testing.T) {
	m := cache.Open(filepath.Join(t.TempDir(), "night1"), "one")
	f := frame.Frame{Name: "a.jpg", Digest: "aa"}
	gone := &frame.Refusal{Code: frame.CodeReplaced, Text: "it was replaced"}
	looks, replaced := 0, true
	look := m.Look(func(context.Context, frame.Frame, ruler.Hint) (ruler.Sighting, error) {
		if looks++; replaced {
			return ruler.Sighting{}, gone
		}
		return ruler.Sighting{Width: 7}, nil
	})
	if s, err := LookFunc(look).at(context.Background(), f, ruler.Hint{}); err != nil || s.Refusal.Code != frame.CodeReplaced {
		t.Errorf("%v, %v", s, err)
	}
	replaced = false
	if s, err := LookFunc(look).at(context.Background(), f, ruler.Hint{}); err != nil || s.Width != 7 || looks != 2 {
		t.Errorf("%v, %v, %d looks", s, err, looks)
	}
}
