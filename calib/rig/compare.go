package rig

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"leadmark/calib/input"
	"leadmark/fit/drift"
	"leadmark/fit/note"
)

// CompareOptions says how two calibrations are held against each other.
type CompareOptions struct {
	Margin   float64 // s, difference of lags that would not matter; 0: equivalence is not tested
	Shared   float64 // s, standard uncertainty that both lags have in common, such as of the same tape
	AnySetup bool    // compare even where the set-ups differ or are not stated
}

// Comparison is two calibrations of a rig held against each other: B minus A, B over A.
type Comparison struct {
	A, B   Numbered
	Lag    *drift.Difference // nil where either lag was not told
	Spread *drift.Ratio      // nil where either spread was not told or is nil
	Digest string            // SHA-256 of both runs' digests and of the margin, hex
	Doubts []note.Note       // what keeps the comparison from being like with like
}

// Numbered is an entry with its number, from 1.
type Numbered struct {
	Number int `json:"number"`
	Entry
}

// Entry returns calibration n, counted from 1.
func (h History) Entry(n int) (Numbered, bool) {
	if n < 1 || n > len(h.Entries) {
		return Numbered{}, false
	}
	return Numbered{n, h.Entries[n-1]}, true
}

// Compare holds two calibrations against each other. Those of unlike set-ups are refused with a
// *input.NoResult that says what differs, unless the options ask for it; so are two of one run,
// which are not independent, and those of which neither lag nor spread can be compared.
func Compare(a, b Numbered, o CompareOptions) (Comparison, error) {
	c := Comparison{A: a, B: b, Digest: input.Digest([]byte(a.RunSHA256), []byte(b.RunSHA256),
		[]byte(fmt.Sprintf("%+v", o)))}
	if a.RunSHA256 == b.RunSHA256 && a.RunSHA256 != "" {
		return c, &input.NoResult{What: fmt.Sprintf("calibrations %d and %d are of the very same run: they "+
			"say nothing of whether the rig changed", a.Number, b.Number)}
	}
	if err := c.checkSetups(o); err != nil {
		return c, err
	}
	if a.Lag != nil && b.Lag != nil && a.Lag.UMS > 0 && b.Lag.UMS > 0 {
		d := drift.Compare(a.Lag.Estimate(), b.Lag.Estimate(), drift.CompareOptions{Margin: o.Margin, Shared: o.Shared})
		c.Lag = &d
	}
	if a.Spread != nil && b.Spread != nil {
		if r, ok := drift.CompareSpread(a.Spread.Estimate(), b.Spread.Estimate()); ok {
			c.Spread = &r
		} else {
			c.Doubts = append(c.Doubts, note.Of("comparison", "spread-hidden"))
		}
	}
	if c.Lag == nil && c.Spread == nil {
		return c, &input.NoResult{What: fmt.Sprintf("calibrations %d and %d have neither lag nor spread to "+
			"compare", a.Number, b.Number)}
	}
	return c, nil
}

func (c *Comparison) checkSetups(o CompareOptions) error {
	a, b := c.A.On(), c.B.On()
	switch differ := a.Differences(b); {
	case a.Like(b) && !a.Known():
		c.Doubts = append(c.Doubts, note.Of("comparison", "no-setup"))
	case a.Like(b):
	case o.AnySetup:
		c.Doubts = append(c.Doubts, note.Of("comparison", "other-setup", differ))
	default:
		return &input.NoResult{What: fmt.Sprintf("calibrations %d and %d cannot be compared: their set-ups "+
			"are not known to be the same (%s)", c.A.Number, c.B.Number, strings.Join(differ, "; ")),
			Hint: "choose two of one set-up; leadmark rig history lists them by set-up. --any-setup compares " +
				"all the same"}
	}
	return nil
}

// Previous is the calibration to hold calibration n against: the last one before it of the same
// set-up and of another run.
func (h History) Previous(n int) (Numbered, bool) {
	e, ok := h.Entry(n)
	for k := n - 1; ok && k >= 1; k-- {
		if p := h.Entries[k-1]; p.On().Like(e.On()) && (p.RunSHA256 != e.RunSHA256 || p.RunSHA256 == "") {
			return Numbered{k, p}, true
		}
	}
	return Numbered{}, false
}

// Find tells which calibration a person means: a number from 1, "last", or the beginning of a time of
// acceptance such as 2026-05-03 or 2026-05-03 22:15. What fits none or several is a *input.Error.
func (h History) Find(text string) (Numbered, error) {
	bad := &input.Error{File: fmt.Sprintf("calibration %q", text),
		Hint: "give its number, or the time it was accepted, such as 2026-05-03; leadmark rig history lists them"}
	if text == "last" && len(h.Entries) > 0 {
		e, _ := h.Entry(len(h.Entries))
		return e, nil
	}
	if n, err := strconv.Atoi(text); err == nil && n < 1000 {
		e, ok := h.Entry(n)
		if !ok {
			bad.What = fmt.Sprintf("is not there: the rig has %d", len(h.Entries))
			return e, bad
		}
		return e, nil
	}
	var found []Numbered
	for i, e := range h.Entries {
		if text != "" && (strings.HasPrefix(e.Accepted.Format(time.DateTime), text) ||
			strings.HasPrefix(e.Accepted.Format(time.RFC3339), text)) {
			found = append(found, Numbered{i + 1, e})
		}
	}
	switch len(found) {
	case 1:
		return found[0], nil
	case 0:
		bad.What = "is not there: none was accepted then"
	default:
		bad.What = fmt.Sprintf("could be any of %d: numbers %d to %d", len(found), found[0].Number,
			found[len(found)-1].Number)
	}
	return Numbered{}, bad
}

// alarmLevel is how rarely an accepted calibration is said to disagree with the one before when nothing
// changed: each of the two tests, of lag and of spread, raises a false alarm once in a hundred.
const alarmLevel = 0.01

// Disagreements says in what a calibration disagrees with the one before it; empty where it does not.
func (c Comparison) Disagreements() []note.Note {
	var all []note.Note
	if d := c.Lag; d != nil && d.P < alarmLevel {
		all = append(all, note.Of("disagree", "lag", d.Value, c.A.Number, d.Interval95.Low, d.Interval95.High, d.P))
	}
	if r := c.Spread; r != nil && r.P < alarmLevel {
		all = append(all, note.Of("disagree", "spread", r.Value, c.A.Number, r.Interval95.Low, r.Interval95.High, r.P))
	}
	return all
}
