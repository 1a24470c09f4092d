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
)

// Entry is one accepted calibration: a result without its frames.
type Entry struct {
	calib.Answer
	calib.Remarks
	Accepted  time.Time `json:"accepted"`
	RunSHA256 string    `json:"run_sha256"`
	Note      string    `json:"note"`
}

// NewEntry makes the entry of a result that is accepted at a time.
func NewEntry(r calib.Result, accepted time.Time, note string) Entry {
	d := calib.NewDocument(r)
	return Entry{Answer: d.Answer, Remarks: d.Remarks, Accepted: accepted.Round(time.Second), RunSHA256: r.RunSHA256, Note: note}
}

// History is every accepted calibration of a rig, the oldest first, and what was wrong with its
// file: lines that cannot be read are named and passed over, never lost silently.
type History struct {
	Entries []Entry
	Damaged []LineFault
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
	text, err := calib.ReadBounded(path, maxHistory)
	if errors.Is(err, fs.ErrNotExist) {
		return History{}, nil
	}
	if err != nil {
		var known *calib.InputError
		if !errors.As(err, &known) {
			err = &calib.InputError{File: path, What: "cannot be read", Err: cause(err)}
		}
		return History{}, err
	}
	return ParseHistory(text), nil
}

// ParseHistory reads the text of calibrations.jsonl.
func ParseHistory(text []byte) History {
	var h History
	for n := 1; len(text) > 0; n++ {
		line, rest, ended := bytes.Cut(text, []byte("\n"))
		text = rest
		if len(bytes.TrimSpace(line)) == 0 {
			continue
		}
		e, err := parseEntry(line)
		switch {
		case err == nil:
			h.Entries = append(h.Entries, e)
		case !ended:
			h.Damaged = append(h.Damaged, LineFault{n, true, "the last line was never finished"})
		default:
			h.Damaged = append(h.Damaged, LineFault{n, false, err.Error()})
		}
	}
	return h
}

func parseEntry(line []byte) (Entry, error) {
	if len(line) > maxLine {
		return Entry{}, fmt.Errorf("longer than %d bytes", maxLine)
	}
	var e Entry
	if err := json.Unmarshal(line, &e); err != nil {
		return Entry{}, err
	}
	if e.Schema != calib.Schema {
		return Entry{}, fmt.Errorf("schema is %q, not %q", e.Schema, calib.Schema)
	}
	if e.Accepted.IsZero() {
		return Entry{}, errors.New("the time of acceptance is missing")
	}
	return e, nil
}

// line writes an entry as one line with its end.
func (e Entry) line() ([]byte, error) {
	var b bytes.Buffer
	j := json.NewEncoder(&b)
	j.SetEscapeHTML(false)
	if err := j.Encode(e); err != nil {
		return nil, fmt.Errorf("writing the calibration as JSON: %w", err)
	}
	if b.Len() > maxLine {
		return nil, fmt.Errorf("the calibration takes %d bytes, more than a line may hold", b.Len())
	}
	return b.Bytes(), nil
}
