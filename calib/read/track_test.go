package read

import (
	"context"
	"path/filepath"
	"reflect"
	"testing"

	"leadmark/calib/read/cache"
	"leadmark/calib/runfile"
	"leadmark/fit/note"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// The track that the first frames of a run show counts only while they are there: other pictures
// under their names are surveyed anew.
func TestATrackGoesWithItsFrames(t *testing.T) {
	c := cache.Open(filepath.Join(t.TempDir(), "night1"), "one")
	shots := []Shot{{Frame: frame.Frame{Name: "a.jpg", Digest: "aa"}},
		{Frame: frame.Frame{Name: "b.jpg", Digest: "bb"}}}
	v := newViewer(t.Context(), runfile.Run{}, shots, 0, Options{Cache: c})
	want := Track{Hint: ruler.Hint{Pitch: 12.5, Near: &ruler.Line{B: ruler.Point{X: 1}}}, Like: &ruler.Like{},
		Scouts: []string{"aa", "bb"}}
	c.KeepOfRun(specOf(v.run).String(), want)
	if got, ok := surveyedBefore(v); !ok || !reflect.DeepEqual(got, want) {
		t.Errorf("what these frames showed does not count: %+v", got)
	}
	shots[1].Digest = "another"
	if _, ok := surveyedBefore(v); ok {
		t.Error("what a picture showed that is no longer there counts")
	}
}

// A frame whose file does not hold the picture that was listed is refused by itself, and nothing of
// it is remembered.
func TestALookAtAReplacedFrameIsNotRemembered(t *testing.T) {
	m := cache.Open(filepath.Join(t.TempDir(), "night1"), "one")
	f := frame.Frame{Name: "a.jpg", Digest: "aa"}
	gone := &frame.Refusal{Note: note.New(frame.CodeReplaced)}
	looks, replaced := 0, true
	look := m.Look(func(context.Context, frame.Frame, ruler.Hint) (ruler.Sighting, error) {
		if looks++; replaced {
			return ruler.Sighting{}, gone
		}
		return ruler.Sighting{Width: 7}, nil
	})
	if s, err := LookFunc(look).at(context.Background(), f, ruler.Hint{}); err != nil ||
		s.Refusal.Code != frame.CodeReplaced {
		t.Errorf("%v, %v", s, err)
	}
	replaced = false
	if s, err := LookFunc(look).at(context.Background(), f, ruler.Hint{}); err != nil || s.Width != 7 || looks != 2 {
		t.Errorf("%v, %v, %d looks", s, err, looks)
	}
}
