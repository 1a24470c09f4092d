package cache

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"path/filepath"
	"sync"

	"leadmark/calib/input"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// folderOf is the folder beside a run's in which what was seen in its frames is remembered.
func folderOf(run string) string {
	if abs, err := filepath.Abs(run); err == nil {
		run = abs
	}
	return filepath.Join(filepath.Dir(run), "."+filepath.Base(run)+entryEnd)
}

const (
	// schema changes with what the entries hold.
	schema = "leadmark/seen/4"

	indexEntry = "index"
	clipsEntry = "-clips"
)

// Cache remembers what was seen in the frames of a run, so that a second look reads only what
// changed. An entry is found by the picture's content, by what was looked for and by the program
// that looked; names, sizes and times of files count for nothing. It may be used by several
// goroutines.
//
// What is only remembered never keeps an answer from being given: whatever is missing or damaged is
// seen anew, what the folder beside the run does not take lasts for this session, and Note says so.
type Cache struct {
	dir     string
	program string  // entries of another program are not believed
	kept    *folder // the folder beside the run; nil where there can be none

	mu    sync.Mutex
	look  lookFunc
	spare *folder // of this session alone, for what kept does not take
	note  string
	index index
	used  map[string]bool   // entries served or kept in this session
	last  map[string]looked // by pictureOf: the look last served or kept
}

// lookFunc is how a frame is looked at.
type lookFunc = func(ctx context.Context, f frame.Frame, h ruler.Hint) (ruler.Sighting, error)

// index is what is remembered of the run as a whole.
type index struct {
	Program string
	OfRun   map[string][]byte // by what was looked for
}

// looked is a look at a frame.
type looked struct {
	hint  ruler.Hint
	clips bool // it gave some
}

// Open opens the memory of the run in a folder, for the program of the given mark (its version, or
// what else tells two builds apart).
func Open(run, program string) *Cache {
	m := &Cache{dir: folderOf(run), program: program, used: map[string]bool{}, last: map[string]looked{}}
	m.index = index{Program: program, OfRun: map[string][]byte{}}
	var err error
	if m.kept, err = openFolder(m.dir); err != nil {
		m.tell(notKept, err)
		return m
	}
	var old index
	if m.kept.load(indexEntry, &old) == nil && old.Program == program && old.OfRun != nil {
		m.index = old
	}
	return m
}

// Note says what kept the frames from being remembered, in words; "" where nothing did.
func (m *Cache) Note() string {
	if m == nil {
		return ""
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.note
}

// tell keeps a note of the first failure: the others come of it.
func (m *Cache) tell(note string, err error) {
	if m.note == "" {
		m.note = fmt.Sprintf(note, m.dir, input.Cause(err))
	}
}

const (
	notKept   = "what is read in the frames cannot be remembered in %s (%v): a second run will read them all again"
	notForgot = "what is no longer needed cannot be taken out of %s (%v); that folder may be deleted at any time"
)

// Look is look with a memory.
func (m *Cache) Look(look lookFunc) lookFunc {
	m.mu.Lock()
	m.look = look
	m.mu.Unlock()
	return func(ctx context.Context, f frame.Frame, h ruler.Hint) (ruler.Sighting, error) {
		if s, ok := m.recall(f, h); ok {
			return s, nil
		}
		s, err := look(ctx, f, h)
		if err != nil {
			return s, err
		}
		return m.Keep(f, h, s), nil
	}
}

// recall returns what was seen in a frame under a hint.
func (m *Cache) recall(f frame.Frame, h ruler.Hint) (ruler.Sighting, bool) {
	var s ruler.Sighting
	key := m.key(f, h)
	if m.load(key, &s) != nil {
		return ruler.Sighting{}, false
	}
	m.served(f, h, key, s)
	return s, true
}

// entryOf names the entry of what was seen in a frame under a hint; ok is false where it was not
// kept in this session.
func (m *Cache) entryOf(f frame.Frame, h ruler.Hint) (entry string, ok bool) {
	if m == nil {
		return "", false
	}
	entry = m.key(f, h)
	m.mu.Lock()
	defer m.mu.Unlock()
	return entry, m.used[entry]
}

// fetch returns the sighting of an entry.
func (m *Cache) fetch(entry string) (s ruler.Sighting, err error) {
	err = m.load(entry, &s)
	return s, err
}

// Keep remembers what was seen in a frame under a hint, and returns it without its clips, which are
// kept by their own. What cannot be kept is seen anew when it is asked for.
func (m *Cache) Keep(f frame.Frame, h ruler.Hint, s ruler.Sighting) ruler.Sighting {
	key := m.key(f, h)
	if len(s.Clips.Large.JPEG) > 0 {
		m.save(key+clipsEntry, s.Clips)
	}
	s.Clips.Large.JPEG, s.Clips.Small.JPEG = nil, nil
	if m.save(key, s) {
		m.served(f, h, key, s)
	} else {
		m.looked(f, h, s)
	}
	return s
}

func (m *Cache) served(f frame.Frame, h ruler.Hint, key string, s ruler.Sighting) {
	m.looked(f, h, s)
	m.mu.Lock()
	defer m.mu.Unlock()
	m.used[key], m.used[key+clipsEntry] = true, true
}

func (m *Cache) looked(f frame.Frame, h ruler.Hint, s ruler.Sighting) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.last[pictureOf(f)] = looked{h, s.Clips.Large.Width > 0}
}

// Clips returns the clips of a frame that was looked at in this session. Where they were not kept
// they are seen anew.
func (m *Cache) Clips(ctx context.Context, f frame.Frame) (c ruler.Clips, err error) {
	m.mu.Lock()
	last, ok := m.last[pictureOf(f)]
	look := m.look
	m.mu.Unlock()
	switch {
	case !ok:
		return c, errors.New("it was not looked at")
	case !last.clips:
		return c, errors.New("there is none")
	case m.load(m.key(f, last.hint)+clipsEntry, &c) == nil:
		return c, nil
	case look == nil:
		return c, errors.New("what was kept of it is gone")
	}
	s, err := look(ctx, f, last.hint)
	if err != nil {
		return c, err
	}
	m.Keep(f, last.hint, s)
	return s.Clips, nil
}

// key names the entry of a frame: by its content, what was looked for in it, and the program.
func (m *Cache) key(f frame.Frame, h ruler.Hint) string {
	near := ruler.Line{}
	if h.Near != nil {
		near = *h.Near
	}
	dark := "any"
	if h.DarkMarks != nil {
		dark = fmt.Sprint(*h.DarkMarks)
	}
	twin := "none"
	if h.Twin != nil {
		twin = h.Twin.String()
	}
	sum := sha256.Sum256(fmt.Appendf(nil, "%s\n%s\n%s\n%v %v %v %v %v %v %s %s %v %v", schema, m.program, pictureOf(f),
		h.Dir, h.Toward, h.Pitch, near, h.Within, h.Body, dark, twin, h.Coarse, h.Slates))
	return hex.EncodeToString(sum[:16])
}

// pictureOf names what is shown of a frame: a file under a RAW file's name is not read as under a
// TIFF's.
func pictureOf(f frame.Frame) string {
	return fmt.Sprint(f.Digest, f.PictureAt, f.PictureBytes, f.Orientation)
}

// KeepFor lets what was seen in a frame under one hint stand for another too, as s has it.
func (m *Cache) KeepFor(f frame.Frame, under, also ruler.Hint, s ruler.Sighting) {
	if m == nil {
		return
	}
	if m.load(m.key(f, under)+clipsEntry, &s.Clips) == nil {
		m.Keep(f, also, s)
	}
}
