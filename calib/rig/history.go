package rig

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"time"

	"leadmark/calib"
	"leadmark/calib/input"
	"leadmark/calib/provenance"
	"leadmark/calib/record"
	"leadmark/calib/store"
)

// Entry is one accepted calibration: a result without its frames.
type Entry struct {
	record.Answer
	record.Remarks
	Accepted  time.Time `json:"accepted"`
	RunSHA256 string    `json:"run_sha256"`
	Note      string    `json:"note"`
	// what made it; nil in lines older than this key
	Generator *provenance.Generator `json:"generator,omitempty"`
	Setup     *Setup                `json:"setup,omitempty"` // nil in lines older than this key
}

// NewEntry makes the entry of a result of the rig p that is accepted at a time.
func NewEntry(r calib.Result, p Profile, accepted time.Time, note string) Entry {
	d, setup, made := record.NewDocument(r), setupOf(r, p), provenance.This()
	return Entry{Answer: d.Answer, Remarks: d.Remarks, Accepted: accepted.Round(time.Second),
		RunSHA256: r.RunSHA256, Note: note, Generator: &made, Setup: &setup}
}

// On is the set-up of a calibration, the zero Setup where its line does not say.
func (e Entry) On() Setup {
	if e.Setup == nil {
		return Setup{}
	}
	return *e.Setup
}

// History is every accepted calibration of a rig, the oldest first, what was put back in force, and
// what was wrong with the file: lines that cannot be read are named and passed over, never lost
// silently. Calibrations are numbered from 1 in the order of Entries.
type History struct {
	Entries  []Entry
	Restores []Restore
	Damaged  []LineFault
	Digest   string // SHA-256 of calibrations.jsonl, hex
	later    bool   // a line is of a later version of the program
}

// LineFault is a line of calibrations.jsonl that cannot be read.
type LineFault struct {
	Line int
	Torn bool // the last line, without its end: a crash while it was written
	What string
}

const (
	maxHistory = 256 << 20 // bytes
	maxLine    = 4 << 20   // bytes
)

// History reads a profile's calibrations.
func (s Store) History(name string) (History, error) {
	if _, err := s.Load(name); err != nil {
		return History{}, err
	}
	path := filepath.Join(s.Dir(name), HistoryName)
	text, err := input.ReadBounded(path, maxHistory)
	if errors.Is(err, fs.ErrNotExist) {
		return History{}, nil
	}
	if err != nil {
		var known *input.Error
		if !errors.As(err, &known) {
			err = &input.Error{File: path, What: "cannot be read", Err: input.Cause(err)}
		}
		return History{}, err
	}
	return ParseHistory(text), nil
}

// ParseHistory reads the text of calibrations.jsonl.
func ParseHistory(text []byte) History {
	h := History{Digest: input.Digest(text)}
	for n := 1; len(text) > 0; n++ {
		line, rest, ended := bytes.Cut(text, []byte("\n"))
		text = rest
		if len(bytes.TrimSpace(line)) == 0 {
			continue
		}
		err := h.add(line)
		switch {
		case err == nil:
		case !ended && !json.Valid(line):
			h.Damaged = append(h.Damaged, LineFault{n, true, "the last line was never finished"})
		default:
			h.Damaged = append(h.Damaged, LineFault{n, false, err.Error()})
			h.later = h.later || errors.Is(err, store.ErrLater)
		}
	}
	return h
}

// add reads one line: a calibration, or one that puts an earlier calibration back in force.
func (h *History) add(line []byte) error {
	if isRestore(line) {
		r, err := parseRestore(line)
		if err == nil {
			err = h.restore(r)
		}
		return err
	}
	e, err := parseEntry(line)
	if err == nil {
		h.Entries = append(h.Entries, e)
	}
	return err
}

func parseEntry(line []byte) (Entry, error) {
	if len(line) > maxLine {
		return Entry{}, fmt.Errorf("longer than %d bytes", maxLine)
	}
	var stated struct {
		Schema string `json:"schema"`
	}
	if json.Unmarshal(line, &stated) == nil { // first, for a later version's line may not fit
		for _, latest := range []string{record.Schema, restoreSchema} {
			if err := store.CheckSchema(stated.Schema, latest); errors.Is(err, store.ErrLater) {
				return Entry{}, err
			}
		}
	}
	var e Entry
	if err := json.Unmarshal(line, &e); err != nil {
		return Entry{}, err
	}
	if err := store.CheckSchema(e.Schema, record.Schema); err != nil {
		return Entry{}, err
	}
	if e.Accepted.IsZero() {
		return Entry{}, errors.New("the time of acceptance is missing")
	}
	return e, nil
}

// line writes an entry as one line with its end.
func (e Entry) line() ([]byte, error) { return lineOf(e) }

func lineOf(v any) ([]byte, error) {
	text, err := record.Line("the calibration", v)
	if err == nil && len(text) > maxLine {
		return nil, fmt.Errorf("the calibration takes %d bytes, more than a line may hold", len(text))
	}
	return text, err
}
