package cache

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"leadmark/fit/note"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// Of a long run only the first sightings are kept at hand; the others come back from the cache as
// they were, and one that is gone from there is looked at again.
func TestSightingsOfALongRun(t *testing.T) {
	run := filepath.Join(t.TempDir(), "night1")
	m := Open(run, "one")
	n := atHand + 50
	hint := ruler.Hint{Pitch: 12.5}
	v := NewSightings(n, m, func(i int, h ruler.Hint) ruler.Sighting {
		return ruler.Sighting{Width: -i, Height: int(h.Pitch)}
	})
	frameOf := func(i int) frame.Frame { return frame.Frame{Name: fmt.Sprint(i), Digest: fmt.Sprintf("%04x", i)} }
	for i := range n {
		s := ruler.Sighting{Width: i + 1, Rows: []ruler.Row{{Pitch: float64(i)}}}
		v.Saw(i, frameOf(i), &hint, m.Keep(frameOf(i), hint, s))
	}
	if len(v.whole) != atHand {
		t.Errorf("%d sightings are at hand", len(v.whole))
	}
	for i := range n {
		if s := v.Of(i); s.Width != i+1 || s.Rows[0].Pitch != float64(i) || !v.Brief(i).Rows {
			t.Fatalf("sighting %d: %v", i, s)
		}
	}
	v.Put(n-1, ruler.Sighting{Refusal: note.New("no-ruler")})
	if s := v.Of(n - 1); s.Refusal.Code != "no-ruler" || v.Brief(n-1).Rows || v.Brief(n-1).Refusal != "no-ruler" {
		t.Errorf("what was put in its place: %v", s)
	}
	if err := os.Remove(filepath.Join(filepath.Dir(run), ".night1.seen", v.brief[n-2].entry+".seen")); err != nil {
		t.Fatal(err)
	}
	if s := v.Of(n - 2); s.Width != 2-n || s.Height != 12 {
		t.Errorf("one that is gone: %v", s)
	}
}

// What the cache does not keep is kept at hand, however many there are.
func TestSightingsWithoutCache(t *testing.T) {
	n := atHand + 50
	v := NewSightings(n, nil, nil)
	for i := range n {
		v.Saw(i, frame.Frame{}, &ruler.Hint{}, ruler.Sighting{Width: i + 1})
	}
	for i := range n {
		if s := v.Of(i); s.Width != i+1 {
			t.Fatalf("sighting %d: %v", i, s)
		}
	}
}
