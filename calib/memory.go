package calib

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/gob"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"

	"leadmark/frame"
	"leadmark/ruler"
)

// memoryFolder is the folder beside a run's in which what was seen in its frames is remembered.
func memoryFolder(run string) string {
	if abs, err := filepath.Abs(run); err == nil {
		run = abs
	}
	return filepath.Join(filepath.Dir(run), "."+filepath.Base(run)+".seen")
}

// memorySchema changes with what the entries hold.
const memorySchema = "leadmark/seen/1"

// Memory remembers what was seen in the frames of a run, so that a second look reads only what changed. An entry is
// found by the picture's content, by what was looked for and by the program that looked; the names, sizes and times
// of the files are remembered too, so that unchanged files need not be read to know their content. It may be used
// by several goroutines. Whatever of it is missing or damaged is seen anew.
type Memory struct {
	dir     string
	program string // entries of another program are not believed
	own     bool   // dir is of this session alone, and goes with it

	mu    sync.Mutex
	index index
	used  map[string]bool   // entries served or kept in this session
	entry map[string]string // digest of a frame -> the entry last served or kept for it
}

// index is what is remembered of the run as a whole.
type index struct {
	Program string
	Written time.Time
	Files   map[string]frame.Frame // by name
	Settled map[string]Settled     // by what was looked for
}

// OpenMemory opens the memory of the run in a folder, for the program of the given mark (its version, or what else tells
// two builds apart). Where the folder takes none, the memory lasts for this session alone, and note says why.
func OpenMemory(run, program string) (m *Memory, note string, err error) {
	m = &Memory{dir: memoryFolder(run), program: program, used: map[string]bool{}, entry: map[string]string{}}
	m.index = index{Program: program, Files: map[string]frame.Frame{}, Settled: map[string]Settled{}}
	if err := m.writable(); err != nil {
		note = fmt.Sprintf("what is read in the frames cannot be remembered in %s (%v): a second run will read them all again", m.dir, err)
		if m.dir, err = os.MkdirTemp("", "leadmark-"); err != nil {
			return nil, "", fmt.Errorf("making a folder for what is seen in the frames: %w", err)
		}
		m.own = true
		return m, note, nil
	}
	var old index
	if m.load(indexEntry, &old) == nil && old.Program == program && old.Files != nil && old.Settled != nil {
		m.index = old
	}
	return m, "", nil
}

// writable makes the folder where it is missing and tries it.
func (m *Memory) writable() error {
	if info, err := os.Lstat(m.dir); err == nil && !info.IsDir() {
		return errors.New("something else has that name")
	}
	if err := os.Mkdir(m.dir, 0o777); err != nil && !errors.Is(err, fs.ErrExist) {
		return reason(err)
	}
	f, err := os.CreateTemp(m.dir, ".try-")
	if err != nil {
		return reason(err)
	}
	return errors.Join(f.Close(), os.Remove(f.Name()))
}

// reason leaves the path out of an error that will be told beside it.
func reason(err error) error {
	var at *fs.PathError
	if errors.As(err, &at) {
		return at.Err
	}
	return err
}

// settled is how much older than the index a file must be for its time to show that it was not written since.
const settled = 2 * time.Second

// Known returns the frame of a file of the run, where its size and time say that it is the same file still.
func (m *Memory) Known(name string, info fs.FileInfo) (frame.Frame, bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	f, ok := m.index.Files[name]
	if !ok || f.Size != info.Size() || !f.Modified.Equal(info.ModTime()) || m.index.Written.Sub(f.Modified) < settled {
		return frame.Frame{}, false
	}
	return f, true
}

// Look is look with a memory.
func (m *Memory) Look(look LookFunc) LookFunc {
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
func (m *Memory) recall(f frame.Frame, h ruler.Hint) (ruler.Sighting, bool) {
	var s ruler.Sighting
	key := m.key(f, h)
	if m.load(key, &s) != nil {
		return ruler.Sighting{}, false
	}
	m.note(f, key)
	return s, true
}

// kept names the entry of what was seen in a frame under a hint; ok is false where it was not kept in this session.
func (m *Memory) kept(f frame.Frame, h ruler.Hint) (entry string, ok bool) {
	if m == nil {
		return "", false
	}
	entry = m.key(f, h)
	m.mu.Lock()
	defer m.mu.Unlock()
	return entry, m.used[entry]
}

// fetch returns the sighting of an entry.
func (m *Memory) fetch(entry string) (s ruler.Sighting, err error) {
	err = m.load(entry, &s)
	return s, err
}

// Keep remembers what was seen in a frame under a hint, and returns it without its clips, which are kept by their own. What
// cannot be kept is not remembered.
func (m *Memory) Keep(f frame.Frame, h ruler.Hint, s ruler.Sighting) ruler.Sighting {
	key := m.key(f, h)
	small := s
	small.Clips.Large.JPEG, small.Clips.Small.JPEG = nil, nil
	if len(s.Clips.Large.JPEG) > 0 {
		if m.save(key+clipsEntry, s.Clips) != nil {
			return s
		}
	}
	if m.save(key, small) != nil {
		return s
	}
	m.note(f, key)
	return small
}

func (m *Memory) note(f frame.Frame, key string) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.used[key], m.used[key+clipsEntry], m.entry[f.Digest] = true, true, key
}

// Clips returns the clips of a frame that was looked at in this session.
func (m *Memory) Clips(_ context.Context, f frame.Frame) (ruler.Clips, error) {
	m.mu.Lock()
	key, ok := m.entry[f.Digest]
	m.mu.Unlock()
	var c ruler.Clips
	if !ok {
		return c, errors.New("it was not looked at")
	}
	if err := m.load(key+clipsEntry, &c); err != nil {
		return c, fmt.Errorf("what was kept of it is gone: %w", reason(err))
	}
	return c, nil
}

// key names the entry of a frame: by its content, what was looked for in it, and the program.
func (m *Memory) key(f frame.Frame, h ruler.Hint) string {
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
	sum := sha256.Sum256(fmt.Appendf(nil, "%s\n%s\n%s\n%d\n%v %v %v %v %v %v %s %s %v %v", memorySchema, m.program, f.Digest, f.Orientation,
		h.Dir, h.Toward, h.Pitch, near, h.Within, h.Body, dark, twin, h.Coarse, h.Slates))
	return hex.EncodeToString(sum[:16])
}

// KeepFor lets what was seen in a frame under one hint stand for another too, as s has it.
func (m *Memory) KeepFor(f frame.Frame, under, also ruler.Hint, s ruler.Sighting) {
	if m == nil {
		return
	}
	if m.load(m.key(f, under)+clipsEntry, &s.Clips) == nil {
		m.Keep(f, also, s)
	}
}

// Settled is what the first few frames of a run settle for the others.
type Settled struct {
	Hint  ruler.Hint
	Lying []ruler.Row // of rulers that lie still in the scene
	Like  ruler.Like  // the one that moves
}

// Settled returns what was settled when these things were looked for; none for no memory.
func (m *Memory) Settled(wanted string) (Settled, bool) {
	if m == nil {
		return Settled{}, false
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	k, ok := m.index.Settled[wanted]
	return k, ok
}

// KeepSettled remembers what was settled.
func (m *Memory) KeepSettled(wanted string, k Settled) {
	if m == nil {
		return
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	m.index.Settled[wanted] = k
}

// KeepFrames remembers the files of the folder.
func (m *Memory) KeepFrames(frames []frame.Frame) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.index.Files = map[string]frame.Frame{}
	for _, f := range frames {
		m.index.Files[f.Name] = f
	}
}

// Close writes down what the run as a whole has shown and forgets entries that nobody asked for; a memory of this session
// alone goes.
func (m *Memory) Close() error {
	switch {
	case m == nil:
		return nil
	case m.own:
		return os.RemoveAll(m.dir)
	}
	if len(m.used) == 0 {
		return m.removeEmpty()
	}
	return m.Flush()
}

// Flush is Close for a memory that stays in use.
func (m *Memory) Flush() error {
	if m == nil || m.own {
		return nil
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	m.index.Written = time.Now()
	return errors.Join(m.save(indexEntry, m.index), m.forget())
}

// removeEmpty takes away the folder of a run of which nothing was seen.
func (m *Memory) removeEmpty() error {
	if entries, err := os.ReadDir(m.dir); err != nil || len(entries) > 0 {
		return nil
	}
	return os.Remove(m.dir)
}

// unused is how old an entry must be to be forgotten where it was not asked for: another process may have just made it.
const unused = time.Hour

func (m *Memory) forget() error {
	entries, err := os.ReadDir(m.dir)
	if err != nil {
		return err
	}
	var errs []error
	for _, e := range entries {
		info, err := e.Info()
		name, ours := entryName(e.Name())
		if err != nil || !ours || name == indexEntry || m.used[name] || time.Since(info.ModTime()) < unused {
			continue
		}
		errs = append(errs, os.Remove(filepath.Join(m.dir, e.Name())))
	}
	return errors.Join(errs...)
}

const (
	indexEntry = "index"
	clipsEntry = "-clips"
	entryEnd   = ".seen"
	mostEntry  = 64 << 20 // bytes
)

func entryName(file string) (string, bool) {
	name, ok := bytes.CutSuffix([]byte(file), []byte(entryEnd))
	return string(name), ok
}

// save writes an entry with a check sum before it, in one step.
func (m *Memory) save(name string, v any) error {
	var b bytes.Buffer
	b.Write(make([]byte, sha256.Size))
	if err := gob.NewEncoder(&b).Encode(v); err != nil {
		return err
	}
	sum := sha256.Sum256(b.Bytes()[sha256.Size:])
	copy(b.Bytes(), sum[:])
	f, err := os.CreateTemp(m.dir, ".part-*"+entryEnd)
	if err != nil {
		return err
	}
	_, err = f.Write(b.Bytes())
	err = errors.Join(err, f.Close())
	if err == nil {
		err = os.Rename(f.Name(), filepath.Join(m.dir, name+entryEnd))
	}
	if err != nil {
		return errors.Join(err, os.Remove(f.Name()))
	}
	return nil
}

// load reads an entry back; one that is damaged, too large or not a plain file is an error.
func (m *Memory) load(name string, v any) error {
	path := filepath.Join(m.dir, name+entryEnd)
	info, err := os.Lstat(path)
	if err != nil {
		return err
	}
	if !info.Mode().IsRegular() || info.Size() > mostEntry || info.Size() < sha256.Size {
		return errors.New("it is damaged")
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	if len(data) < sha256.Size || sha256.Sum256(data[sha256.Size:]) != [sha256.Size]byte(data[:sha256.Size]) {
		return errors.New("it is damaged")
	}
	return gob.NewDecoder(bytes.NewReader(data[sha256.Size:])).Decode(v)
}
