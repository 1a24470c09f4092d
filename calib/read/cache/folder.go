package cache

import (
	"bytes"
	"crypto/rand"
	"crypto/sha256"
	"encoding/gob"
	"errors"
	"io"
	"io/fs"
	"os"
	"strings"
	"syscall"
	"time"

	"leadmark/calib/input"
)

const entryEnd = ".seen"

// folder is a folder of entries. Whoever gave the folder away may have put anything there, and may
// put links in its place while it is used: it is held open, and no link is followed, neither to it
// nor in it.
type folder struct {
	dir  string
	root *os.Root
}

// openFolder opens a folder, made where it is missing.
func openFolder(dir string) (*folder, error) {
	if err := os.Mkdir(dir, 0o777); err != nil && !errors.Is(err, fs.ErrExist) {
		return nil, input.Cause(err)
	}
	info, err := os.Lstat(dir)
	if err == nil && !info.IsDir() {
		return nil, errors.New("something else has that name")
	}
	if err != nil {
		return nil, input.Cause(err)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, input.Cause(err)
	}
	if opened, err := root.Stat("."); err != nil || !os.SameFile(info, opened) {
		return nil, errors.Join(errors.New("something else took its place"), root.Close())
	}
	return &folder{dir, root}, nil
}

func (s *folder) close() error { return s.root.Close() }

// save writes an entry with a check sum before it, in one step.
func (s *folder) save(name string, v any) error {
	var b bytes.Buffer
	b.Write(make([]byte, sha256.Size))
	if err := gob.NewEncoder(&b).Encode(v); err != nil {
		return err
	}
	if int64(b.Len()) > mostOf(name) {
		return errors.New("there is too much of it")
	}
	sum := sha256.Sum256(b.Bytes()[sha256.Size:])
	copy(b.Bytes(), sum[:])
	part := ".part-" + rand.Text() + entryEnd
	f, err := s.root.OpenFile(part, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	_, err = f.Write(b.Bytes())
	err = errors.Join(err, f.Close())
	if err == nil {
		err = s.root.Rename(part, name+entryEnd)
	}
	if err != nil {
		_ = s.root.Remove(part) // what stays is forgotten in time
	}
	return err
}

// load reads an entry back; one that is damaged, too large or not a plain file is an error.
func (s *folder) load(name string, v any) error {
	data, err := s.read(name+entryEnd, mostOf(name))
	if err != nil {
		return err
	}
	if len(data) < sha256.Size || sha256.Sum256(data[sha256.Size:]) != [sha256.Size]byte(data[:sha256.Size]) {
		return errDamaged
	}
	return gob.NewDecoder(bytes.NewReader(data[sha256.Size:])).Decode(v)
}

var errDamaged = errors.New("it is damaged")

// read reads a file of the folder, unless it is a link or too large.
func (s *folder) read(file string, most int64) ([]byte, error) {
	info, err := s.root.Lstat(file)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() || info.Size() > most {
		return nil, errDamaged
	}
	f, err := s.root.OpenFile(file, os.O_RDONLY|syscall.O_NONBLOCK, 0) // a pipe put there meanwhile would wait for ever
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if opened, err := f.Stat(); err != nil || !os.SameFile(info, opened) {
		return nil, errDamaged
	}
	return io.ReadAll(io.LimitReader(f, info.Size()))
}

// forget removes the entries that are older than age and not kept. What is not a plain file is none
// of ours.
func (s *folder) forget(age time.Duration, kept func(name string) bool) error {
	folder, err := s.root.Open(".")
	if err != nil {
		return err
	}
	defer folder.Close()
	entries, err := folder.ReadDir(-1)
	if err != nil {
		return err
	}
	var errs []error
	for _, e := range entries {
		name, ours := strings.CutSuffix(e.Name(), entryEnd)
		info, err := e.Info()
		if err != nil || !ours || !info.Mode().IsRegular() || kept(name) || time.Since(info.ModTime()) < age {
			continue
		}
		if err := s.root.Remove(e.Name()); err != nil && !errors.Is(err, fs.ErrNotExist) {
			errs = append(errs, err)
		}
	}
	return errors.Join(errs...)
}

func mostOf(name string) int64 {
	if strings.HasSuffix(name, clipsEntry) {
		return mostClips
	}
	return mostEntry
}
