package read

import (
	"context"
	"fmt"
	"sync/atomic"
	"testing"

	"leadmark/calib/runfile"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// everywhere counts the looks of a run of n frames at some pictures in turn, each file another, that were
// not told where to look. The first picture shows no ruler.
func everywhere(t *testing.T, n, pictures int) (looks, read int) {
	t.Helper()
	run := runfile.Run{Method: runfile.Drop, Travel: runfile.Right, HasShots: true,
		Ruler: runfile.RulerSpec{Graduation: 1e-3, Front: new(0.0)}}
	var folder Folder
	by := map[string]ruler.Sighting{}
	for i := range n {
		name := fmt.Sprintf("%04d.jpg", i)
		k := i % pictures
		s := ruler.Sighting{Width: 3000, Height: 1000}
		if s.Rows = []ruler.Row{millimetres(900 + 7*float64(k))}; k == 0 {
			s.Rows, s.Refusal.Code = nil, "no-ruler"
		}
		by[name] = s
		folder.Frames = append(folder.Frames, frame.Frame{Name: name, Digest: name})
		run.Shots = append(run.Shots, runfile.ShotEntry{Frame: name, Use: true, Stated: runfile.Stated{Drop: true},
			Conditions: runfile.Conditions{Drop: 0.1 * float64(1+k/9), Gravity: 9.81}})
	}
	var far atomic.Int64
	look := func(_ context.Context, f frame.Frame, h ruler.Hint) (ruler.Sighting, error) {
		if h.Near == nil {
			far.Add(1)
		}
		return seenNear(by[f.Name], h), nil
	}
	g, err := All(t.Context(), run, folder, Options{Look: look})
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range g.list {
		if r.Status == ruler.StatusRead {
			read++
		}
	}
	return int(far.Load()), read
}

// A run of which the frames first looked at show no ruler is not searched everywhere for it: 107 and
// 108 frames take as many looks, though of 108 the four from all over the run show one picture.
func TestARunIsNotSearchedEverywhereForItsFirstFrames(t *testing.T) {
	for _, n := range []int{107, 108, 216} {
		looks, read := everywhere(t, n, 27)
		without := (n + 26) / 27 // frames without a ruler, looked at everywhere and once more
		if most := mostScouts + 4 + 2*without; looks > most || read != n-without {
			t.Errorf("%d frames: %d looks everywhere, want at most %d; %d read, want %d", n, looks, most, read, n-without)
		}
	}
}

// A run that shows no ruler at all is looked through and ends, be there fewer frames than are looked at
// first.
func TestARunWithoutARulerEnds(t *testing.T) {
	for _, n := range []int{1, 12, 13, 14, 40} {
		if looks, read := everywhere(t, n, 1); read > 0 || looks > 3*n {
			t.Errorf("%d frames: %d looks, %d read", n, looks, read)
		}
	}
}

// What is scattered is from all over, new and whole, however few there are.
func TestScattered(t *testing.T) {
	list := []int{3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15}
	had := []int{3, 6, 9, 12}
	all := map[int]bool{}
	for len(had) < len(list) {
		more := scattered(list, had, 4)
		if len(more) != min(4, len(list)-len(had)) {
			t.Fatalf("%v of %v beside %v", more, list, had)
		}
		had = append(had, more...)
	}
	for _, i := range had {
		all[i] = true
	}
	if len(all) != len(list) {
		t.Errorf("%v", had)
	}
}

// A run that shows no ruler is searched once, a frame a look, and for fine graduations in its first scouts
// alone: in a large picture these take most of the time.
func TestNothingIsSearchedForTwice(t *testing.T) {
	const n = 40
	run := runfile.Run{Method: runfile.Drop, Travel: runfile.Right, HasShots: true,
		Ruler: runfile.RulerSpec{Graduation: 1e-3, Front: new(0.0)}}
	var folder Folder
	for i := range n {
		name := fmt.Sprintf("%04d.jpg", i)
		folder.Frames = append(folder.Frames, frame.Frame{Name: name, Digest: name})
		run.Shots = append(run.Shots, runfile.ShotEntry{Frame: name, Use: true, Stated: runfile.Stated{Drop: true},
			Conditions: runfile.Conditions{Drop: 0.1, Gravity: 9.81}})
	}
	var looks, fine atomic.Int64
	look := func(_ context.Context, _ frame.Frame, h ruler.Hint) (ruler.Sighting, error) {
		if looks.Add(1); h.Least == 0 && h.Pitch == 0 {
			fine.Add(1)
		}
		s := ruler.Sighting{Width: 3000, Height: 1000}
		s.Refusal.Code = "no-ruler"
		return s, nil
	}
	if _, err := All(t.Context(), run, folder, Options{Look: look}); err != nil {
		t.Fatal(err)
	}
	if looks.Load() != n || fine.Load() != scouts {
		t.Errorf("%d looks at %d frames, %d of them fine, want %d", looks.Load(), n, fine.Load(), scouts)
	}
}
