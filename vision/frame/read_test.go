package frame

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"testing"
	"time"
)

// What is read of a frame is of the file that was listed: another file of that name, be it of the
// same size and time, gives nothing.
func TestReadGivesTheBytesThatWereListedOrNone(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.png")
	data := noisy(t, true)
	put(t, path, data)
	f, bad := Open(path)
	if bad != nil {
		t.Fatal(bad)
	}
	before, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	other := slices.Clone(data)
	other[len(other)/2] ^= 1
	part := f
	part.PictureAt, part.PictureBytes = 8, 100 // as of a RAW file
	for what, c := range map[string]struct {
		now  []byte
		same bool
	}{
		"as it was": {data, true}, "another": {other, false},
		"shorter": {data[:len(data)-1], false},
		"longer":  {append(slices.Clone(data), 0), false}, "empty": {nil, false},
		"put back": {data, true},
	} {
		put(t, path, c.now)
		if err := os.Chtimes(path, before.ModTime(), before.ModTime()); err != nil {
			t.Fatal(err)
		}
		for want, f := range map[string]Frame{string(data): f, string(data[8:108]): part} {
			got, err := f.Read(nil)
			var refused *Refusal
			switch {
			case c.same && (err != nil || string(got) != want):
				t.Errorf("%s: %v", what, err)
			case !c.same && (!errors.As(err, &refused) || refused.Code != CodeReplaced ||
				got != nil):
				t.Errorf("%s: %d bytes, %v", what, len(got), err)
			}
		}
	}
	for what, f := range map[string]Frame{"none listed": {Path: path},
		"a part beyond the end": {Path: path, Digest: f.Digest, Size: f.Size, PictureAt: f.Size,
			PictureBytes: 1}} {
		if got, err := f.Read(nil); err == nil {
			t.Errorf("%s: %d bytes", what, len(got))
		}
	}
}

// A picture in the place of which one of the same size and time is put, as a new file or in the old
// one, is told again.
func TestWatcherSeesAPictureOfTheSameSizeAndTime(t *testing.T) {
	ways := map[string]func(path string, data []byte){
		"another file": func(path string, data []byte) {
			spare := filepath.Join(t.TempDir(), "b")
			put(t, spare, data)
			if err := os.Rename(spare, path); err != nil {
				t.Fatal(err)
			}
		},
		"the same file": func(path string, data []byte) { put(t, path, data) },
	}
	if runtime.GOOS != "linux" {
		delete(ways, "the same file") // its time of change is not asked for
	}
	for how, exchange := range ways {
		dir := t.TempDir()
		path := filepath.Join(dir, "a.jpg")
		data := noisy(t, false)
		put(t, path, data)
		info, err := os.Stat(path)
		if err != nil {
			t.Fatal(err)
		}
		w := NewWatcher(dir)
		now := time.Now()
		first := look(t, w, now)
		if len(first.Frames) != 1 {
			t.Fatalf("%s: %+v", how, first)
		}
		data[10] ^= 1 // a value of the first quantization table, another picture
		exchange(path, data)
		if err := os.Chtimes(path, info.ModTime(), info.ModTime()); err != nil {
			t.Fatal(err)
		}
		if c := look(t, w, now.Add(5*time.Second)); len(c.Frames) != 1 ||
			c.Frames[0].Digest == first.Frames[0].Digest {
			t.Errorf("%s: %+v", how, c)
		}
	}
}
