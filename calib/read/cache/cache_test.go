package cache

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// openTest opens the memory of a run in a folder of its own.
func openTest(t *testing.T, run, program string) *Cache {
	t.Helper()
	m := Open(run, program)
	if m.Note() != "" {
		t.Fatalf("note %q", m.Note())
	}
	return m
}

func seenOnce(count *int) lookFunc {
	return func(context.Context, frame.Frame, ruler.Hint) (ruler.Sighting, error) {
		*count++
		return ruler.Sighting{Width: 6000, Rows: []ruler.Row{{Pitch: 26.557236219719297}},
			Clips: ruler.Clips{Large: ruler.Clip{Width: 3, JPEG: []byte{1, 2, 3}},
				Small: ruler.Clip{JPEG: []byte{4}}}}, nil
	}
}

func TestCacheReadsOnlyWhatChanged(t *testing.T) {
	run := filepath.Join(t.TempDir(), "night1")
	if err := os.Mkdir(run, 0o777); err != nil {
		t.Fatal(err)
	}
	a, b := frame.Frame{Name: "a.jpg", Digest: "aa"}, frame.Frame{Name: "b.jpg", Digest: "bb"}
	hint := ruler.Hint{Pitch: 12.5, Near: &ruler.Line{B: ruler.Point{X: 1}}}
	looks := 0
	look := func(m *Cache, f frame.Frame, h ruler.Hint) ruler.Sighting {
		s, err := m.Look(seenOnce(&looks))(context.Background(), f, h)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	m := openTest(t, run, "one")
	first := look(m, a, hint)
	m.Close()

	m = openTest(t, run, "one")
	again := look(m, a, hint)
	if looks != 1 || again.Rows[0].Pitch != first.Rows[0].Pitch {
		t.Errorf("%d looks, pitch %v", looks, again.Rows[0].Pitch)
	}
	if c, err := m.Clips(context.Background(), a); err != nil || len(c.Large.JPEG) != 3 || c.Large.Width != 3 {
		t.Errorf("clips %v, %v", c, err)
	}
	for want, f := range map[int]func(){
		2: func() { look(m, b, hint) },                                                           // another content
		3: func() { look(m, a, ruler.Hint{Pitch: 12.5}) },                                        // another search
		4: func() { look(openTest(t, run, "another build"), a, hint) },                           // another program
		5: func() { damage(t, m, m.key(a, hint)); look(m, a, hint) },                             // a damaged entry
		6: func() { os.Remove(filepath.Join(m.dir, m.key(a, hint)+entryEnd)); look(m, a, hint) }, // a missing one
	} {
		looks = want - 1
		if f(); looks != want {
			t.Errorf("case %d was taken from memory", want)
		}
	}
}

func damage(t *testing.T, m *Cache, key string) {
	t.Helper()
	path := filepath.Join(m.dir, key+entryEnd)
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	data[len(data)-2] ^= 0x10
	if err := os.WriteFile(path, data, 0o666); err != nil {
		t.Fatal(err)
	}
}

func TestCacheWithoutAPlace(t *testing.T) {
	parent := t.TempDir()
	run := filepath.Join(parent, "night1")
	if err := os.WriteFile(folderOf(run), []byte("a file of that name"), 0o666); err != nil {
		t.Fatal(err)
	}
	m := Open(run, "one")
	if m.Note() == "" {
		t.Fatal("nothing was said")
	}
	looks := 0
	f := frame.Frame{Name: "a.jpg", Digest: "aa"}
	for range 2 { // it lasts for the session
		if _, err := m.Look(seenOnce(&looks))(context.Background(), f, ruler.Hint{}); err != nil {
			t.Fatal(err)
		}
	}
	dir := m.spare.dir
	if m.Close(); looks != 1 {
		t.Errorf("%d looks", looks)
	}
	if _, err := os.Stat(dir); !os.IsNotExist(err) {
		t.Error("the session's own folder was left behind")
	}
}
