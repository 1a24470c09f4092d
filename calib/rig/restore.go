package rig

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"leadmark/calib/input"
)

// restoreSchema names the lines of calibrations.jsonl that put an earlier calibration back in force.
const restoreSchema = "leadmark/restore/1"

// Restore is a line that puts an earlier calibration back in force. Nothing is rewritten: the line
// comes after those it overrules, and the next accepted calibration comes after it.
type Restore struct {
	Schema      string    `json:"schema"`
	Restored    time.Time `json:"restored"`
	Calibration int       `json:"calibration"` // its number, from 1
	Accepted    time.Time `json:"accepted"`    // when that one was accepted, and from which run: it is found by
	RunSHA256   string    `json:"run_sha256"`  // these, so that a damaged line before it does no harm
	Note        string    `json:"note"`

	after int // calibrations there were before this line
}

// String is the restore in words, its note last.
func (r Restore) String() string {
	text := fmt.Sprintf("Number %d was put back on %s", r.Calibration, r.Restored.Format("2 January 2006 15:04"))
	if r.Note != "" {
		text += ": " + r.Note
	}
	return text
}

// isRestore looks at the schema alone, so that a line that is wrong further on is told of by name.
func isRestore(line []byte) bool {
	var s struct {
		Schema string `json:"schema"`
	}
	return bytes.Contains(line, []byte("restore")) && json.Unmarshal(line, &s) == nil && s.Schema == restoreSchema
}

func parseRestore(line []byte) (Restore, error) {
	var r Restore
	if len(line) > maxLine {
		return r, fmt.Errorf("longer than %d bytes", maxLine)
	}
	if err := json.Unmarshal(line, &r); err != nil {
		return r, err
	}
	if r.Restored.IsZero() || r.Accepted.IsZero() {
		return r, errors.New("a time is missing")
	}
	return r, nil
}

// restore finds the calibration that a line means and keeps both.
func (h *History) restore(r Restore) error {
	means := func(n int) bool {
		return n >= 1 && n <= len(h.Entries) && h.Entries[n-1].Accepted.Equal(r.Accepted) &&
			h.Entries[n-1].RunSHA256 == r.RunSHA256
	}
	for n := len(h.Entries); n > 0 && !means(r.Calibration); n-- {
		if means(n) {
			r.Calibration = n
		}
	}
	if !means(r.Calibration) {
		return fmt.Errorf("it puts calibration %d back in force, which is not among those before it", r.Calibration)
	}
	r.after = len(h.Entries)
	h.Restores = append(h.Restores, r)
	return nil
}

// Restore puts calibration n, counted from 1, back in force by adding a line that says so. It returns
// a *input.Error where there is no such calibration or it is in force already; the profile is then
// as it was, as after any error.
func (s Store) Restore(ctx context.Context, name string, n int, at time.Time, note string) (Appended, error) {
	if err := s.Ready(name); err != nil {
		return Appended{}, err
	}
	return s.locked(ctx, name, func(h History) ([]byte, error) {
		if n < 1 || n > len(h.Entries) {
			return nil, &input.Error{File: fmt.Sprintf("rig %q", name),
				What: fmt.Sprintf("has no calibration %d; it has %d", n, len(h.Entries)),
				Hint: "leadmark rig history " + quoted(name) + " lists them"}
		}
		if f, ok := h.InForce(); ok && f.Number == n {
			return nil, &input.Error{File: fmt.Sprintf("rig %q", name),
				What: fmt.Sprintf("has calibration %d in force already; nothing was written", n)}
		}
		e := h.Entries[n-1]
		return lineOf(Restore{Schema: restoreSchema, Restored: at.Round(time.Second), Calibration: n,
			Accepted: e.Accepted, RunSHA256: e.RunSHA256, Note: note})
	}, "")
}

// InForce is the calibration that holds, and why it does.
type InForce struct {
	Number   int // from 1
	Entry    Entry
	Restored *Restore // the line that put it back; nil where it is the last accepted
}

// InForce tells which calibration holds now: the one that was accepted or put back last. ok is false
// where there is none.
func (h History) InForce() (f InForce, ok bool) {
	return h.inForce(func(Entry) bool { return true })
}

// InForceOn tells which calibration of one set-up holds.
func (h History) InForceOn(s Setup) (f InForce, ok bool) {
	return h.inForce(func(e Entry) bool { return e.On().Like(s) })
}

func (h History) inForce(counts func(Entry) bool) (f InForce, ok bool) {
	last := 0
	for i, e := range h.Entries {
		if counts(e) {
			last = i + 1
		}
	}
	if last == 0 {
		return f, false
	}
	f = InForce{Number: last, Entry: h.Entries[last-1]}
	for i, r := range h.Restores { // what was accepted after a restore overrules it
		if e := h.Entries[r.Calibration-1]; counts(e) && r.after >= last {
			f = InForce{Number: r.Calibration, Entry: e, Restored: &h.Restores[i]}
		}
	}
	return f, true
}

// Why says in words why a calibration is the one in force.
func (f InForce) Why() string {
	if f.Restored == nil {
		return "the last that was accepted"
	}
	s := "put back on " + f.Restored.Restored.Format("2 January 2006 15:04")
	if f.Restored.Note != "" {
		s += ": " + f.Restored.Note
	}
	return s
}
