package runfile

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"leadmark/calib/input"
)

// Names of the files that describe a run.
const (
	RunFileName   = "run.toml"
	ShotsFileName = "shots.csv"
)

// Largest run.toml and largest table that are read, in bytes.
const (
	maxRunFile = 1 << 20
	maxTable   = 16 << 20
)

// Load reads what the folder dir says of a run, run.toml, shots.csv and corrections.toml, with the
// overrides of the command line in the place of run.toml's values, and checks every value. What is
// wrong is an *input.Error, or several joined.
func Load(dir string, o Overrides) (Run, error) {
	if err := checkFolder(dir); err != nil {
		return Run{}, err
	}
	text, err := readOptional(filepath.Join(dir, RunFileName), maxRunFile)
	if err != nil {
		return Run{}, err
	}
	if text == nil && isEmpty(dir) && !o.Coming {
		return Run{}, &input.Error{File: dir, What: "the folder is empty",
			Hint: "copy the frames of one run into it, then: leadmark calibrate " + dir + " --start"}
	}
	run, err := parseRun(filepath.Join(dir, RunFileName), text, o)
	if err != nil {
		return Run{}, err
	}
	run.Dir, run.Settings = dir, o.Values()
	if err := checkStill(run, o); err != nil {
		return Run{}, err
	}
	table, err := readOptional(filepath.Join(dir, ShotsFileName), maxTable)
	if err != nil {
		return Run{}, err
	}
	if table != nil {
		if err := run.loadShots(table, o); err != nil {
			return Run{}, err
		}
	}
	corrected, corrections, err := loadCorrections(dir)
	if err != nil {
		return Run{}, err
	}
	run.Digest = input.Digest(text, table, o.Text())
	if corrections != nil {
		run.correct(corrected)
		run.Digest = input.Digest([]byte(run.Digest), corrections)
	}
	return run, nil
}

func (r *Run) loadShots(table []byte, o Overrides) error {
	name := filepath.Join(r.Dir, ShotsFileName)
	shots, err := ParseShots(name, table, *r)
	if err != nil {
		return err
	}
	r.Shots, r.HasShots = shots, true
	if o.ByHand || o.Coming {
		return nil
	}
	return r.checkPresent(name)
}

func checkFolder(dir string) error {
	info, err := os.Stat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return &input.Error{File: dir, What: "there is no such folder",
			Hint: "give the folder that holds the frames of one run"}
	case err != nil:
		return &input.Error{File: dir, What: "cannot be looked into", Err: errors.Unwrap(err)}
	case !info.IsDir():
		return &input.Error{File: dir, What: "is not a folder",
			Hint: "give the folder that holds the frames of one run"}
	}
	return nil
}

// isEmpty passes over hidden files, which file managers leave behind.
func isEmpty(dir string) bool {
	entries, err := os.ReadDir(dir)
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") {
			return false
		}
	}
	return err == nil
}

// readOptional returns nil for a file that is not there.
func readOptional(path string, limit int64) ([]byte, error) {
	data, err := input.ReadBounded(path, limit)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	var known *input.Error
	if err != nil && !errors.As(err, &known) {
		err = &input.Error{File: path, What: "cannot be read", Err: errors.Unwrap(err)}
	}
	if err == nil && data == nil {
		data = []byte{}
	}
	return data, err
}

// checkStill looks for the frame that shows the trip place.
func checkStill(r Run, o Overrides) error {
	if r.Trip == nil || r.Trip.Still == "" || o.ByHand || o.Coming {
		return nil
	}
	if _, err := os.Stat(filepath.Join(r.Dir, r.Trip.Still)); err != nil {
		return &input.Error{File: filepath.Join(r.Dir, RunFileName),
			What: fmt.Sprintf("still names %s, which is not in the folder", r.Trip.Still),
			Hint: "name a frame of this folder, or give line_px"}
	}
	return nil
}
