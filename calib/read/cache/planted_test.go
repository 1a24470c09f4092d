package cache

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/gob"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// elsewhere is a folder of somebody's with files whose names an entry might have, all old enough to
// be forgotten, and what it holds.
func elsewhere(t *testing.T) (dir string, holds func() string) {
	t.Helper()
	dir = t.TempDir()
	old := time.Now().Add(-48 * time.Hour)
	for _, name := range []string{"index" + entryEnd, "letter" + entryEnd, "letter.txt"} {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte("a letter\n"), 0o666); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(path, old, old); err != nil {
			t.Fatal(err)
		}
	}
	return dir, func() string {
		var b strings.Builder
		_ = filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
			text, _ := os.ReadFile(path)
			b.WriteString(path + ": " + string(text) + "\n")
			return err
		})
		return b.String()
	}
}

// useCache looks at a frame with a memory as a command does, and returns the looks that it took.
func useCache(t *testing.T, m *Cache, meanwhile func()) (looks int) {
	t.Helper()
	f := frame.Frame{Name: "a.jpg", Digest: "aa"}
	look := m.Look(seenOnce(&looks))
	meanwhile()
	for range 2 {
		if s, err := look(context.Background(), f, ruler.Hint{}); err != nil || s.Width != 6000 {
			t.Errorf("the look gives %v, %v", s, err)
		}
	}
	if c, err := m.Clips(context.Background(), f); err != nil || len(c.Large.JPEG) != 3 {
		t.Errorf("the clips are %v, %v", c, err)
	}
	m.Flush()
	m.Close()
	return looks
}

// Links at the names under which frames are remembered, planted before or meanwhile, lead nowhere:
// nothing elsewhere is written, read or removed, and what is asked for is answered.
func TestPlantedLinksLeadNowhere(t *testing.T) {
	f := frame.Frame{Name: "a.jpg", Digest: "aa"}
	for what, plant := range map[string]struct {
		before, meanwhile func(t *testing.T, seen, other string)
		note              string
	}{
		"for the folder": {before: func(t *testing.T, seen, other string) { link(t, other, seen) },
			note: "something else has that name"},
		"for the folder, to nowhere": {before: func(t *testing.T, seen, other string) {
			link(t, filepath.Join(other, "new"), seen)
		},
			note: "something else has that name"},
		"for the folder, meanwhile": {meanwhile: func(t *testing.T, seen, other string) {
			if err := os.Rename(seen, seen+"-before"); err != nil {
				t.Fatal(err)
			}
			link(t, other, seen)
		}},
		"for entries": {before: func(t *testing.T, seen, other string) { plantEntries(t, seen, other, f) }},
		"for entries, meanwhile": {meanwhile: func(t *testing.T, seen, other string) {
			plantEntries(t, seen, other, f)
		}},
		"a folder for an entry": {before: func(t *testing.T, seen, _ string) {
			for _, name := range []string{"index", (&Cache{program: "one"}).key(f, ruler.Hint{}), "old"} {
				if err := os.MkdirAll(filepath.Join(seen, name+entryEnd, "full"), 0o777); err != nil {
					t.Fatal(err)
				}
			}
		}, note: "cannot be remembered"},
	} {
		t.Run(what, func(t *testing.T) {
			run := filepath.Join(t.TempDir(), "night1")
			other, holds := elsewhere(t)
			before := holds()
			if plant.before != nil {
				plant.before(t, folderOf(run), other)
			}
			m := Open(run, "one")
			looks := useCache(t, m, func() {
				if plant.meanwhile != nil {
					plant.meanwhile(t, folderOf(run), other)
				}
			})
			if looks != 1 {
				t.Errorf("%d looks", looks)
			}
			if after := holds(); after != before {
				t.Errorf("elsewhere there is now\n%swhere there was\n%s", after, before)
			}
			if note := m.Note(); (note == "") != (plant.note == "") || !strings.Contains(note, plant.note) {
				t.Errorf("note: %q", note)
			}
		})
	}
}

func link(t *testing.T, to, at string) {
	t.Helper()
	if err := os.Symlink(to, at); err != nil {
		t.Skipf("no links can be made here: %v", err)
	}
}

// plantEntries puts links to a letter in the place of entries, and one to an entry of another
// picture.
func plantEntries(t *testing.T, seen, other string, f frame.Frame) {
	t.Helper()
	if err := os.MkdirAll(seen, 0o777); err != nil {
		t.Fatal(err)
	}
	s, err := openFolder(seen)
	if err != nil {
		t.Fatal(err)
	}
	defer s.close()
	if err := s.save("another", ruler.Sighting{Width: 1}); err != nil {
		t.Fatal(err)
	}
	key := (&Cache{program: "one"}).key(f, ruler.Hint{})
	link(t, "another"+entryEnd, filepath.Join(seen, key+entryEnd))
	link(t, filepath.Join(other, "letter.txt"), filepath.Join(seen, key+clipsEntry+entryEnd))
	link(t, filepath.Join(other, "letter.txt"), filepath.Join(seen, indexEntry+entryEnd))
}

// An entry whose bytes would be decoded to many times as much is not believed.
func TestALargeEntryIsNotBelieved(t *testing.T) {
	s, err := openFolder(filepath.Join(t.TempDir(), "seen"))
	if err != nil {
		t.Fatal(err)
	}
	defer s.close()
	var b bytes.Buffer
	type row struct{ Pitch float64 } // an empty one takes one byte
	if err := gob.NewEncoder(&b).Encode(struct{ Rows []row }{make([]row, 2<<20)}); err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256(b.Bytes())
	if err := os.WriteFile(filepath.Join(s.dir, "x"+entryEnd), append(sum[:], b.Bytes()...), 0o666); err != nil {
		t.Fatal(err)
	}
	var seen ruler.Sighting
	if err := s.load("x", &seen); err == nil {
		t.Errorf("%d bytes were decoded to %d rows", b.Len(), len(seen.Rows))
	}
}
