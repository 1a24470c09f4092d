package main

import (
	"bytes"
	"context"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"leadmark/calib/read"
	"leadmark/calib/record"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// twoRead names two frames of a result whose advances are well apart, and returns them.
func twoRead(t *testing.T, d record.Document) (a, b record.FrameEntry) {
	t.Helper()
	read := slices.DeleteFunc(slices.Clone(d.Frames), func(f record.FrameEntry) bool { return f.AdvanceMM == nil })
	slices.SortFunc(read, func(a, b record.FrameEntry) int { return int(math.Copysign(1, *a.AdvanceMM-*b.AdvanceMM)) })
	if len(read) < 2 || *read[len(read)-1].AdvanceMM-*read[0].AdvanceMM < 5 {
		t.Fatal("the run has no two frames that are apart")
	}
	return read[0], read[len(read)-1]
}

// frontOf is where a frame's front end was found, px, by which pictures are told apart whatever the
// rest of the run says; far outside where it was not read.
func frontOf(f record.FrameEntry) ruler.Point {
	if f.FrontPX == nil {
		return ruler.Point{X: -1e6}
	}
	return ruler.Point{X: f.FrontPX[0], Y: f.FrontPX[1]}
}

// sameFront is how far a front end may lie from itself in two looks under other hints, px: those of
// the frames used are 100 and more apart.
const sameFront = 1

func contentOf(t *testing.T, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// calibratedBy runs calibrate with the look given and returns its result and what it said.
func calibratedBy(t *testing.T, look func(a *app) read.LookFunc, args ...string) (record.Document, string) {
	t.Helper()
	var out, said bytes.Buffer
	a := newApp(&out, &said)
	a.Look = look(a)
	if err := a.run(context.Background(), append([]string{"calibrate", "--json"}, args...)); err != nil {
		t.Fatalf("%v\n%s", err, said.String())
	}
	d, err := record.Decode(out.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	return d, said.String()
}

// A frame that is exchanged for another picture between the listing and the look is refused; when
// the original is back it reads as it did, and in no run anything of one picture stands for the
// other.
func TestAFrameExchangedWhileItIsRead(t *testing.T) {
	dir := smallRun(t, 5)
	want := resultOf(t, dir)
	if err := os.RemoveAll(filepath.Join(filepath.Dir(dir), ".night.seen")); err != nil {
		t.Fatal(err)
	}
	a, b := twoRead(t, want)
	path := filepath.Join(dir, a.File)
	original, other := contentOf(t, path), contentOf(t, filepath.Join(dir, b.File))
	var once sync.Once
	got, _ := calibratedBy(t, func(app *app) read.LookFunc {
		look := app.Look
		return func(ctx context.Context, f frame.Frame, h ruler.Hint) (ruler.Sighting, error) {
			if f.Name == a.File {
				once.Do(func() { writeFile(t, path, other) })
			}
			return look(ctx, f, h)
		}
	}, dir)
	if f := frameOf(t, got, a.File); f.Status != "refused" || !strings.Contains(f.Reason, frame.CodeReplaced) {
		t.Errorf("exchanged while it was read: %s, %s, %v", f.Status, f.Reason, f.AdvanceMM)
	}
	writeFile(t, path, original)
	again := resultOf(t, dir)
	if f := frameOf(t, again, a.File); frontOf(f).Sub(frontOf(a)).Len() > sameFront {
		t.Errorf("the original is back and is read at %v (%s); it shows %v", frontOf(f), f.Reason, frontOf(a))
	}
	writeFile(t, path, other)
	if f := frameOf(t, resultOf(t, dir), a.File); frontOf(f).Sub(frontOf(b)).Len() > sameFront {
		t.Errorf("the other picture is read at %v (%s); it shows %v", frontOf(f), f.Reason, frontOf(b))
	}
}

// Two pictures of one size and time that change places are read as what they show.
func TestPicturesOfOneSizeAndTimeChangePlaces(t *testing.T) {
	dir := smallRun(t, 5)
	a, b := twoRead(t, resultOf(t, dir))
	one, two := contentOf(t, filepath.Join(dir, a.File)), contentOf(t, filepath.Join(dir, b.File))
	size := max(len(one), len(two)) + 4
	one, two = withComment(one, size), withComment(two, size)
	long := time.Now().Add(-time.Hour)
	put := func(name string, data []byte) {
		writeFile(t, filepath.Join(dir, name), data)
		if err := os.Chtimes(filepath.Join(dir, name), long, long); err != nil {
			t.Fatal(err)
		}
	}
	put(a.File, one)
	put(b.File, two)
	before := resultOf(t, dir)
	put(a.File, two)
	put(b.File, one)
	after := resultOf(t, dir)
	for was, is := range map[string]string{a.File: b.File, b.File: a.File} {
		f, g := frameOf(t, before, was), frameOf(t, after, is)
		if frontOf(f).Sub(frontOf(g)).Len() > sameFront {
			t.Errorf("the picture of %s is now %s and is read at %v; it shows %v", was, is, frontOf(g), frontOf(f))
		}
	}
}

// withComment makes a JPEG as large as wanted, by a comment behind its first marker (T.81, B.2.4.5).
func withComment(data []byte, size int) []byte {
	n := size - len(data)
	return slices.Concat(data[:2], []byte{0xFF, 0xFE, byte((n - 2) >> 8), byte(n - 2)}, make([]byte, n-4), data[2:])
}

// The folder of what was seen vanishes while the frames are read: the answer is as without, and a
// note says so, once.
func TestWhatWasSeenVanishesWhileFramesAreRead(t *testing.T) {
	dir := smallRun(t, 5)
	want := resultOf(t, dir)
	seen := filepath.Join(filepath.Dir(dir), ".night.seen")
	if err := os.RemoveAll(seen); err != nil {
		t.Fatal(err)
	}
	var mu sync.Mutex
	looks := 0
	got, said := calibratedBy(t, func(app *app) read.LookFunc {
		look := app.Look
		return func(ctx context.Context, f frame.Frame, h ruler.Hint) (ruler.Sighting, error) {
			mu.Lock()
			if looks++; looks == 6 {
				if err := os.RemoveAll(seen); err != nil {
					t.Error(err)
				}
			}
			mu.Unlock()
			return look(ctx, f, h)
		}
	}, dir)
	sameAnswer(t, want, got)
	if strings.Count(said, "note: ") != 1 || !strings.Contains(said, "cannot be remembered") {
		t.Errorf("said: %s", said)
	}
	for _, f := range want.Frames {
		clip := filepath.Join(dir+"-report", "frames", strings.TrimSuffix(f.File, filepath.Ext(f.File))+".svg")
		if _, err := os.Stat(clip); f.AdvanceMM != nil && err != nil {
			t.Errorf("the report lacks a picture: %v", err)
		}
	}
}

// sameAnswer holds two results of one run against each other, frame by frame.
func sameAnswer(t *testing.T, want, got record.Document) {
	t.Helper()
	if got.Lag == nil || !reflect.DeepEqual(got.Lag, want.Lag) {
		t.Errorf("lag %+v, else %+v", got.Lag, want.Lag)
	}
	for i, f := range got.Frames {
		if w := want.Frames[i]; f.Status != w.Status || f.AdvanceMM != nil && *f.AdvanceMM != *w.AdvanceMM {
			t.Errorf("%s: %s %v (%s), else %s %v", f.File, f.Status, f.AdvanceMM, f.Reason, w.Status, w.AdvanceMM)
		}
	}
}
