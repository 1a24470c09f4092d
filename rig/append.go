package rig

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/gofrs/flock"

	"leadmark/calib"
)

// Appended says what adding a calibration did besides.
type Appended struct {
	Path   string // of calibrations.jsonl
	Torn   string // the file that a torn last line was moved to; "" where there was none
	Before int    // calibrations there were before
	Again  bool   // one of them was of the very same run
}

// Append adds a calibration to a profile, whole or not at all, and returns when it is on the
// disk. A second process that appends at the same time waits. A last line that a crash left torn
// is moved to a file of its own beside; nothing else in the profile is touched. After an error
// the profile is byte for byte what it was.
func (s Store) Append(name string, e Entry) (Appended, error) {
	if err := s.Ready(name); err != nil {
		return Appended{}, err
	}
	return s.locked(name, func(History) ([]byte, error) { return e.line() }, e.RunSHA256)
}

// locked adds the line made from the history as it is under the lock.
func (s Store) locked(name string, make func(History) ([]byte, error), run string) (Appended, error) {
	dir := s.Dir(name)
	// The lock is held on rig.toml, which is there already and which nothing rewrites, so that a
	// failure leaves no lock file behind.
	lock := flock.New(filepath.Join(dir, DescriptionName), flock.SetFlag(os.O_RDONLY))
	if err := lock.Lock(); err != nil {
		return Appended{}, fmt.Errorf("locking the profile in %s: %w", dir, err)
	}
	defer lock.Close()
	a, err := appendLine(dir, make, run)
	var told *calib.InputError
	if err != nil && !errors.As(err, &told) {
		return a, fmt.Errorf("adding the calibration to %s (the profile is as it was): %w", filepath.Join(dir, HistoryName), err)
	}
	return a, err
}

// appendLine works under the lock.
func appendLine(dir string, make func(History) ([]byte, error), run string) (a Appended, err error) {
	a.Path = filepath.Join(dir, HistoryName)
	_, statErr := os.Lstat(a.Path)
	file, err := os.OpenFile(a.Path, os.O_RDWR|os.O_APPEND|os.O_CREATE, 0o666)
	if err != nil {
		return a, err
	}
	made := errors.Is(statErr, os.ErrNotExist)
	defer func() {
		err = errors.Join(err, file.Close())
		if err != nil && made {
			err = errors.Join(err, os.Remove(a.Path))
		}
	}()
	before, err := io.ReadAll(io.LimitReader(file, maxHistory+1))
	if err != nil {
		return a, err
	}
	if len(before) > maxHistory {
		return a, fmt.Errorf("the file is larger than %d MB", maxHistory>>20)
	}
	h := ParseHistory(before)
	a.Before = len(h.Entries)
	for _, e := range h.Entries {
		a.Again = a.Again || run != "" && e.RunSHA256 == run
	}
	line, err := make(h)
	if err != nil {
		return a, err
	}
	whole, torn := splitTorn(before)
	if torn != nil {
		if a.Torn, err = keepTorn(dir, torn); err != nil {
			return a, err
		}
	}
	if len(whole) > 0 && whole[len(whole)-1] != '\n' {
		line = append([]byte("\n"), line...) // a whole last line that only lacks its end
	}
	if err := write(file, int64(len(whole)), line, before); err != nil {
		if a.Torn != "" {
			err = errors.Join(err, os.Remove(a.Torn))
		}
		return a, err
	}
	return a, syncDir(dir)
}

// splitTorn parts the text of the whole lines from a torn last one, nil where there is none.
func splitTorn(text []byte) (whole, torn []byte) {
	end := bytes.LastIndexByte(text, '\n') + 1
	last := text[end:]
	if len(bytes.TrimSpace(last)) == 0 {
		return text, nil
	}
	if json.Valid(last) { // whole, only its end was taken off
		return text, nil
	}
	return text[:end], last
}

// keepTorn writes a torn line to a new file, so that nothing is lost.
func keepTorn(dir string, torn []byte) (string, error) {
	for i := 1; ; i++ {
		path := filepath.Join(dir, fmt.Sprintf("%s.%d", tornName, i))
		file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if errors.Is(err, os.ErrExist) && i < 10_000 {
			continue
		}
		if err != nil {
			return "", err
		}
		_, err = file.Write(torn)
		if err := errors.Join(err, file.Sync(), file.Close()); err != nil {
			return "", errors.Join(err, os.Remove(path))
		}
		return path, nil
	}
}

// write cuts a torn end off and adds the line; on failure it puts the old bytes back.
func write(file *os.File, keep int64, line, before []byte) error {
	err := error(nil)
	if keep < int64(len(before)) {
		err = file.Truncate(keep)
	}
	if err == nil {
		_, err = file.Write(line)
	}
	if err == nil {
		err = file.Sync()
	}
	if err == nil {
		return nil
	}
	undo := file.Truncate(keep)
	if keep < int64(len(before)) {
		_, again := file.Write(before[keep:])
		undo = errors.Join(undo, again)
	}
	return errors.Join(err, undo, file.Sync())
}
