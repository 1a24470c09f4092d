package output

import (
	"fmt"
	"os"
	"slices"
	"strings"
)

// StoppedError is a command that a person broke off, and what it had written.
type StoppedError struct {
	Err  error
	Told string
}

// Error says what was written before, and what was not.
func (e StoppedError) Error() string { return "stopped before the end; " + e.Told }

// Unwrap is why it was stopped.
func (e StoppedError) Unwrap() error { return e.Err }

// Stopped is the error of a command that was stopped and has returned.
func (w *Ledger) Stopped(err error) error {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.tidy()
	return StoppedError{Err: err, Told: w.says()}
}

// End is the error of a command that is not waited for any longer. Nothing more is written: whoever
// is about to begin waits for ever.
func (w *Ledger) End(err error) error {
	w.mu.Lock()
	w.tidy()
	return StoppedError{Err: err, Told: w.says()}
}

// tidy takes away what is unfinished, and folders in which nothing came to be.
func (w *Ledger) tidy() {
	for _, dir := range w.scratch {
		for range 10 { // what draws there may go on for a moment
			if os.RemoveAll(dir) == nil {
				break
			}
		}
	}
	for _, dir := range slices.Backward(w.made) {
		_ = os.Remove(dir) // one that holds something stays
	}
}

// List names what was written; "" for nothing.
func (w *Ledger) List() string {
	var parts []string
	for _, g := range w.groups {
		what := g.One
		if g.n > 1 {
			what = fmt.Sprint(g.n, " ", g.Many)
		}
		parts = append(parts, what+g.Where)
	}
	return strings.Join(parts, ", ")
}

// says is what was changed, and what was not.
func (w *Ledger) says() string {
	text := "nothing was changed"
	if list := w.List(); list != "" {
		text = "written before that: " + list + "; nothing else was changed"
	}
	if w.under != "" {
		text += ", but " + w.under + " may be as it was or new: it was being written"
	}
	return text
}
