package read

import (
	"context"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"reflect"
	"sync"
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

// Frames whose ruler was found, but not its front end, tell where the others' rulers run: a run in which no
// frame is read is not searched everywhere, frame by frame. After the scouts each frame is looked at once.
func TestARunWithoutFrontsIsTracked(t *testing.T) {
	const frames = 40
	rnd := rand.New(rand.NewPCG(1, 2))
	run := runfile.Run{Method: runfile.Drop, Travel: runfile.Right, Ruler: runfile.RulerSpec{Graduation: 1e-3, Front: new(0.0)}}
	var folder Folder
	seen := map[string]ruler.Sighting{}
	for i := range frames {
		name := fmt.Sprintf("%03d.jpg", i)
		row := noisy(rnd, millimetres(900+10*rnd.Float64()))
		row.Steps = nil
		seen[name] = ruler.Sighting{Width: 3000, Height: 1000, Rows: []ruler.Row{row}}
		folder.Frames = append(folder.Frames, frame.Frame{Name: name, Digest: name})
	}
	var mu sync.Mutex
	everywhere, looks := 0, 0
	look := func(_ context.Context, f frame.Frame, h ruler.Hint) (ruler.Sighting, error) {
		mu.Lock()
		defer mu.Unlock()
		if looks++; h.Near == nil {
			everywhere++
		}
		return seenNear(seen[f.Name], h), nil
	}
	g, err := All(t.Context(), run, folder, Options{Look: look})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range g.list {
		if s.Reason.Code != "front-not-visible" {
			t.Fatalf("%v %v, want the front end not to be seen", s.Status, s.Reason)
		}
	}
	if everywhere > scouts || looks > frames {
		t.Errorf("%d looks, %d of them everywhere; want %d and at most %d", looks, everywhere, frames, scouts)
	}
}
