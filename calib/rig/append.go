package rig

import (
	"context"
	"path/filepath"

	"leadmark/calib/input"
	"leadmark/calib/store"
)

// Appended says what adding a calibration did besides.
type Appended struct {
	Path   string // of calibrations.jsonl
	Torn   string // the file that a torn last line was moved to; "" where there was none
	Before int    // calibrations there were before
	Again  bool   // one of them was of the very same run
}

// Append adds a calibration to a profile, whole or not at all, and returns when it is on the disk.
// A second process that appends at the same time waits, as store.Lock does. A last line that a
// crash left torn is moved to a file of its own beside; nothing else in the profile is touched.
// After an error the profile is byte for byte what it was, or the error says that this is not sure.
func (s Store) Append(ctx context.Context, name string, e Entry) (Appended, error) {
	if err := s.Ready(name); err != nil {
		return Appended{}, err
	}
	return s.locked(ctx, name, func(History) ([]byte, error) { return e.line() }, e.RunSHA256)
}

// locked adds the line made from the history as it is under the lock.
func (s Store) locked(ctx context.Context, name string, line func(History) ([]byte, error),
	run string) (a Appended, err error) {
	dir := s.Dir(name)
	// The lock is held on rig.toml, which is there already and which nothing rewrites, so that a
	// failure leaves no lock file behind.
	store.Cleanup(s.disk(), dir)
	unlock, err := store.Lock(ctx, filepath.Join(dir, DescriptionName))
	if err != nil {
		return Appended{}, err
	}
	defer func() { _ = unlock() }()
	a.Path = filepath.Join(dir, HistoryName)
	a.Torn, err = s.lines(name).Append(s.disk(), func(before []byte) ([]byte, error) {
		h := ParseHistory(before)
		if h.later {
			return nil, &input.Error{File: a.Path,
				What: "holds a calibration that a later version of leadmark wrote; nothing was added",
				Hint: "install that version: this one cannot tell what is in force"}
		}
		a.Before = len(h.Entries)
		for _, e := range h.Entries {
			a.Again = a.Again || run != "" && e.RunSHA256 == run
		}
		return line(h)
	})
	return a, err
}

// lines is a profile's history as a file.
func (s Store) lines(name string) store.Lines {
	return store.Lines{Path: filepath.Join(s.Dir(name), HistoryName), Most: maxHistory, Torn: tornName}
}

// disk is where profiles are written.
func (s Store) disk() store.Disk {
	if s.Disk == nil {
		return store.System()
	}
	return s.Disk
}
