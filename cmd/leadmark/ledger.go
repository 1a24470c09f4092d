package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
)

// ledger is what a command has changed on the disk so far, so that one that is stopped can say it.
// Each step that writes goes through it. Caches are left out: they hold nothing of the person's.
type ledger struct {
	mu      sync.Mutex
	groups  []group
	under   string   // what is being written now; "" for nothing
	scratch []string // hidden folders of unfinished work
	made    []string // folders made for what was to come, the outer ones first
	noted   func()   // called after each step that wrote something; nil but in tests
}

// group is what was written of one kind.
type group struct {
	kind
	n int
}

// kind says what was written in words: of one, of several behind their number, and where they are.
type kind struct{ one, many, where string }

// step writes something that is there whole or not at all: do says how much of a kind it wrote, and
// path what may be old or new while it is under way. Once the program is being ended no step
// begins.
func (w *ledger) step(k kind, path string, do func() (n int, err error)) error {
	w.begin(path)
	n, err := do()
	if err != nil {
		n = 0
	}
	w.done(k, n)
	return err
}

// file writes one file that the message names.
func (w *ledger) file(path string, do func() error) error {
	return w.step(kind{one: path}, path, func() (int, error) {
		if err := do(); err != nil {
			return 0, err
		}
		return 1, nil
	})
}

func (w *ledger) begin(path string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.under = path
}

func (w *ledger) done(k kind, n int) {
	w.note(k, n)
	if n > 0 && w.noted != nil {
		w.noted()
	}
}

func (w *ledger) note(k kind, n int) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.under = ""
	if n == 0 {
		return
	}
	if i := slices.IndexFunc(w.groups, func(g group) bool { return g.kind == k }); i >= 0 {
		w.groups[i].n += n
		return
	}
	w.groups = append(w.groups, group{k, n})
}

// unfinished notes a hidden folder that is taken away where the program ends in the middle.
func (w *ledger) unfinished(dir string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.scratch = append(w.scratch, dir)
}

// folder makes a folder for what is to come, which goes again where nothing comes.
func (w *ledger) folder(dir string) error {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.made = append(w.made, missing(dir)...)
	return os.MkdirAll(dir, 0o777)
}

// around notes which folders about a path are not there: they may be made for it, and go again
// where nothing comes.
func (w *ledger) around(path string) {
	if path == "" {
		return
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	w.made = append(w.made, missing(filepath.Dir(filepath.Clean(path)))...)
}

// missing lists the folders of a path that are not there, the outer ones first.
func missing(dir string) []string {
	var all []string
	for {
		if _, err := os.Lstat(dir); err == nil {
			break
		}
		all = append(all, dir)
		up := filepath.Dir(dir)
		if up == dir {
			break
		}
		dir = up
	}
	slices.Reverse(all)
	return all
}

// stopped is the error of a command that was stopped and has returned.
func (w *ledger) stopped(err error) error {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.tidy()
	return stoppedError{err: err, told: w.tell()}
}

// end is the error of a command that is not waited for any longer. Nothing more is written: whoever
// is about to begin waits for ever.
func (w *ledger) end(err error) error {
	w.mu.Lock()
	w.tidy()
	return stoppedError{err: err, told: w.tell()}
}

// tidy takes away what is unfinished, and folders in which nothing came to be.
func (w *ledger) tidy() {
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

// list names what was written; "" for nothing.
func (w *ledger) list() string {
	var parts []string
	for _, g := range w.groups {
		what := g.one
		if g.n > 1 {
			what = fmt.Sprint(g.n, " ", g.many)
		}
		parts = append(parts, what+g.where)
	}
	return strings.Join(parts, ", ")
}

// tell says what was changed, and what was not.
func (w *ledger) tell() string {
	text := "nothing was changed"
	if list := w.list(); list != "" {
		text = "written before that: " + list + "; nothing else was changed"
	}
	if w.under != "" {
		text += ", but " + w.under + " may be as it was or new: it was being written"
	}
	return text
}
