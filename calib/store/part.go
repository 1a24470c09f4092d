package store

import (
	"crypto/rand"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"unicode/utf8"
)

// longestStem bounds what of a file's name stands in that of its part: disks allow 255 bytes in all.
const longestStem = 180

// partName is what a new file or folder is called until it is whole: hidden, so that it is in
// nobody's way, and not to be guessed, so that nobody can have put a link or a file there, nor two
// programs write one.
func partName(path string) string {
	dir, stem := filepath.Split(path)
	for len(stem) > longestStem || !utf8.ValidString(stem) {
		stem = stem[:len(stem)-1]
	}
	return dir + "." + stem + ".leadmark-" + strings.ToLower(rand.Text()[:16]) + ".part"
}

// isPart says whether a name is one that partName gives.
func isPart(name string) bool {
	return strings.HasSuffix(name, ".part") &&
		regexp.MustCompile(`^\..*\.leadmark-[a-z2-7]{16}\.part$`).MatchString(name)
}

// oldPart is what versions up to 0.9.1 called a part.
func oldPart(path string) string {
	return filepath.Join(filepath.Dir(path), "."+filepath.Base(path)+".part")
}

// mostTries bounds how often another name is tried where one is taken.
const mostTries = 100

// part is a new file that has not got its name yet.
type part struct {
	path    string
	release func() // says that nobody is at it any more
}

// drop takes a part away that is of no use. Where that fails it is a leftover, which the next sweep
// takes.
func (p part) drop(d Disk) {
	_ = d.Remove(p.path)
	p.release()
}

// writePart writes a new file beside the one of a path.
func writePart(d Disk, path string, mode *fs.FileMode, write func(io.Writer) error) (part, error) {
	p, file, err := openPart(d, path, mode)
	if err != nil {
		return part{}, err
	}
	err = write(file)
	if err == nil && mode != nil {
		err = chmod(file, *mode)
	}
	if err == nil {
		err = file.Sync()
	}
	if err = errors.Join(err, file.Close()); err != nil {
		p.drop(d)
		return part{}, err
	}
	return p, nil
}

// chmod gives a file the permissions of another. Disks that have none, as cards, refuse it: there
// is nothing to lose there.
func chmod(file File, mode fs.FileMode) error {
	if err := file.Chmod(mode); err != nil && !errors.Is(err, fs.ErrPermission) &&
		!errors.Is(err, errors.ErrUnsupported) {
		return err
	}
	return nil
}

// openPart makes the file, under a name that nobody has. A link there is not followed: O_EXCL wants
// the name to be free.
func openPart(d Disk, path string, mode *fs.FileMode) (part, File, error) {
	perm := fs.FileMode(0o666)
	if mode != nil {
		perm = *mode | 0o600
	}
	var err error
	for range mostTries {
		var file File
		name := partName(path)
		file, err = d.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, perm)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err != nil {
			return part{}, nil, err
		}
		release, ok := hold(name)
		if ok {
			return part{name, release}, file, nil
		}
		err = errors.Join(fs.ErrExist, file.Close()) // a sweep came between: it is gone
	}
	return part{}, nil, err
}
