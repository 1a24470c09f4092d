package output

import (
	"os"
	"path/filepath"
	"slices"
	"sync"

	"leadmark/calib/store"
)

// Ledger is what a command has changed on the disk so far, so that one that is stopped can say it.
// Each step that writes goes through it. Caches are left out: they hold nothing of the person's.
type Ledger struct {
	mu      sync.Mutex
	groups  []group
	under   string   // what is being written now; "" for nothing
	scratch []string // hidden folders of unfinished work
	made    []string // folders made for what was to come, the outer ones first

	Noted func() // called after each step that wrote something; nil but in tests
}

// group is what was written of one kind.
type group struct {
	Kind
	n int
}

// Kind says what was written in words: of one, of several behind their number, and where they are.
type Kind struct{ One, Many, Where string }

// Step writes something that is there whole or not at all: do says how much of a kind it wrote, and
// path what may be old or new while it is under way. Once the program is being ended no step
// begins.
func (w *Ledger) Step(k Kind, path string, do func() (n int, err error)) error {
	w.Begin(path)
	n, err := do()
	if err != nil {
		n = 0
	}
	w.Done(k, n)
	return err
}

// File writes one file that the message names.
func (w *Ledger) File(path string, do func() error) error {
	return w.Step(Kind{One: path}, path, func() (int, error) {
		if err := do(); err != nil {
			return 0, err
		}
		return 1, nil
	})
}

// Begin notes what is being written: until it is done it may be old or new.
func (w *Ledger) Begin(path string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.under = path
}

// Done notes that so much of a kind was written.
func (w *Ledger) Done(k Kind, n int) {
	w.note(k, n)
	if n > 0 && w.Noted != nil {
		w.Noted()
	}
}

func (w *Ledger) note(k Kind, n int) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.under = ""
	if n == 0 {
		return
	}
	if i := slices.IndexFunc(w.groups, func(g group) bool { return g.Kind == k }); i >= 0 {
		w.groups[i].n += n
		return
	}
	w.groups = append(w.groups, group{k, n})
}

// Unfinished notes a hidden folder that is taken away where the program ends in the middle.
func (w *Ledger) Unfinished(dir string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.scratch = append(w.scratch, dir)
}

// Make makes a folder for what is to come, which goes again where nothing comes.
func (w *Ledger) Make(dir string) error {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.made = append(w.made, missing(dir)...)
	return store.MakeFolder(dir)
}

// Around notes which folders about a path are not there: they may be made for it, and go again
// where nothing comes.
func (w *Ledger) Around(path string) {
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
