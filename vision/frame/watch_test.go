package frame

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"
)

// noisy is a picture that does not compress to nothing.
func noisy(t *testing.T, asPNG bool) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 320, 200))
	state := uint32(7)
	for i := range img.Pix {
		state = state*1664525 + 1013904223 // Numerical Recipes' linear congruential generator
		img.Pix[i] = uint8(state >> 24)
	}
	img.SetGray(0, 0, color.Gray{255})
	var b bytes.Buffer
	err := jpeg.Encode(&b, img, nil)
	if asPNG {
		b.Reset()
		err = png.Encode(&b, img)
	}
	if err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func frameNames(all []Frame) []string {
	var out []string
	for _, f := range all {
		out = append(out, f.Name)
	}
	return out
}

func look(t *testing.T, w *Watcher, now time.Time) Change {
	t.Helper()
	c, err := w.Look(now)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// evening is when a watcher's looks begin: it is told the time.
var evening = time.Date(2026, 5, 3, 22, 15, 0, 0, time.UTC)

func put(t *testing.T, path string, data []byte) {
	t.Helper()
	if err := os.WriteFile(path, data, 0o666); err != nil {
		t.Fatal(err)
	}
}

// A file is told once it is whole and not before, whatever piece of it has been written.
func TestWatcherWaitsForFilesBeingWritten(t *testing.T) {
	for _, name := range []string{"a.jpg", "a.png"} {
		dir := t.TempDir()
		data := noisy(t, filepath.Ext(name) == ".png")
		w := NewWatcher(dir)
		now := evening
		if c := look(t, w, now); !c.Nothing() || len(c.Waiting) > 0 {
			t.Errorf("empty folder: %+v", c)
		}
		for _, n := range []int{0, 20, len(data) / 3, len(data) - 1} {
			put(t, filepath.Join(dir, name), data[:n])
			now = now.Add(700 * time.Millisecond) // calm, but not for as long as patience
			if c := look(t, w, now); !c.Nothing() || !slices.Equal(c.Waiting, []string{name}) {
				t.Errorf("%s, %d bytes: %+v", name, n, c)
			}
		}
		put(t, filepath.Join(dir, name), data)
		now = now.Add(10 * time.Millisecond)
		if c := look(t, w, now); !slices.Equal(frameNames(c.Frames), []string{name}) ||
			len(c.Waiting) > 0 {
			t.Errorf("%s whole: %+v", name, c)
		}
		if c := look(t, w, now.Add(5*time.Second)); !c.Nothing() {
			t.Errorf("%s is told twice: %+v", name, c)
		}
	}
}

// A copy that ends just behind the thumbnail inside the file, whose last bytes are an end marker
// too, is not taken for whole.
func TestWatcherIsNotFooledByTheThumbnailsEnd(t *testing.T) {
	dir := t.TempDir()
	data := noisy(t, false)
	inside := append(slices.Clone(data), make([]byte, 100)...)
	segment := append([]byte{0xFF, 0xE5, byte((len(inside) + 2) >> 8), byte(len(inside) + 2)},
		inside...)
	whole := slices.Concat(data[:2], segment, data[2:])
	w := NewWatcher(dir)
	now := evening
	put(t, filepath.Join(dir, "a.jpg"), whole[:2+4+len(data)])
	for range 4 {
		if c := look(t, w, now); !c.Nothing() {
			t.Fatalf("half a picture was told: %+v", c)
		}
		now = now.Add(400 * time.Millisecond)
	}
	put(t, filepath.Join(dir, "a.jpg"), whole)
	if c := look(t, w, now); len(c.Frames) != 1 {
		t.Errorf("whole: %+v", c)
	}
}

func TestWatcherGivesUpWhatStaysHalfAndTellsItWhenItIsMended(t *testing.T) {
	dir := t.TempDir()
	data := noisy(t, false)
	w := NewWatcher(dir)
	now := evening
	put(t, filepath.Join(dir, "half.jpg"), data[:len(data)/2])
	put(t, filepath.Join(dir, "raw.crw"), []byte("II*\x00"))
	c := look(t, w, now)
	if len(c.Refused) != 1 || c.Refused[0].Code != "unsupported-format" {
		t.Errorf("a kind that is not read: %+v", c)
	}
	c = look(t, w, now.Add(3*time.Second))
	if len(c.Refused) != 1 || c.Refused[0].Code != "truncated" || len(c.Waiting) > 0 {
		t.Errorf("given up: %+v", c)
	}
	put(t, filepath.Join(dir, "half.jpg"), data)
	if c = look(t, w, now.Add(5*time.Second)); len(c.Frames) != 1 {
		t.Errorf("mended: %+v", c)
	}
	if err := os.Remove(filepath.Join(dir, "half.jpg")); err != nil {
		t.Fatal(err)
	}
	if c = look(t, w, now.Add(7*time.Second)); !slices.Equal(c.Gone, []string{"half.jpg"}) {
		t.Errorf("taken away: %+v", c)
	}
}

func TestWatcherTellsManyFilesInOrderAndInParts(t *testing.T) {
	dir := t.TempDir()
	data := noisy(t, false)
	var want []string
	for _, name := range []string{"IMG_2.JPG", "IMG_10.JPG", "IMG_1.JPG"} {
		put(t, filepath.Join(dir, name), data)
	}
	for i := range 40 {
		put(t, filepath.Join(dir, "B_"+string(rune('A'+i%26))+string(rune('a'+i/26))+".jpg"), data)
	}
	w := NewWatcher(dir)
	var got []string
	for range 10 {
		c := look(t, w, evening)
		got = append(got, frameNames(c.Frames)...)
		if !c.More {
			break
		}
	}
	want = slices.Clone(got)
	slices.SortFunc(want, CompareNames)
	if len(got) != 43 || !slices.Equal(got, want) {
		t.Errorf("%d told, in the order %v", len(got), got)
	}
}
