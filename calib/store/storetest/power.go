package storetest

import (
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// PowerDisk is a model of a folder on a disk that does no more than it must: what POSIX calls
// fsync of a file makes the file's content last, fsync of a folder the names in it, and until then
// each change of a name may be lost or kept on its own, in whatever order they were made, and of
// what was written nothing, half or all may be there.
type PowerDisk struct {
	root    *node
	pending []*change // of names, in the order they were made
}

// node is a file or a folder.
type node struct {
	names, sure   map[string]*node // of a folder: as the program sees it, and what surely lasts
	text, durable string           // of a file: the same of its content
}

func folderNode() *node { return &node{names: map[string]*node{}, sure: map[string]*node{}} }

// change is of names in folders, all at once or not at all.
type change struct {
	what   string
	in     []*node
	do     func(names func(*node) map[string]*node)
	synced map[*node]bool
}

// NewPowerDisk has the files of a folder, all of them on the disk.
func NewPowerDisk(dir string) (*PowerDisk, error) {
	d := &PowerDisk{root: folderNode()}
	err := filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		if err != nil || path == dir {
			return err
		}
		rel, err := filepath.Rel(dir, path)
		if err != nil {
			return err
		}
		n := folderNode()
		if !e.IsDir() {
			text, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			n = &node{text: string(text), durable: string(text)}
		}
		parent, name := d.place(rel)
		parent.names[name], parent.sure[name] = n, n
		return nil
	})
	return d, err
}

// place is the folder that a path's last name stands in; nil where there is none.
func (d *PowerDisk) place(path string) (parent *node, name string) {
	at := d.root
	words := strings.Split(filepath.Clean(path), "/")
	for _, w := range words[:len(words)-1] {
		if at = at.names[w]; at == nil || at.names == nil {
			return nil, ""
		}
	}
	return at, words[len(words)-1]
}

// find is what stands at a path; nil for nothing.
func (d *PowerDisk) find(path string) *node {
	if filepath.Clean(path) == "." {
		return d.root
	}
	parent, name := d.place(path)
	if parent == nil {
		return nil
	}
	return parent.names[name]
}

// change makes a change of names, which is not on the disk yet.
func (d *PowerDisk) change(what string, in []*node, do func(names func(*node) map[string]*node)) {
	do(func(n *node) map[string]*node { return n.names })
	d.pending = append(d.pending, &change{what: what, in: in, do: do, synced: map[*node]bool{}})
}

// put gives a node a name.
func (d *PowerDisk) put(what, path string, n *node) {
	parent, name := d.place(path)
	if parent == nil {
		return
	}
	d.change(what, []*node{parent}, func(names func(*node) map[string]*node) { names(parent)[name] = n })
}

func (d *PowerDisk) remove(path string) {
	parent, name := d.place(path)
	if parent == nil {
		return
	}
	d.change("remove "+path, []*node{parent}, func(names func(*node) map[string]*node) { delete(names(parent), name) })
}

func (d *PowerDisk) rename(from, to string) {
	n := d.find(from)
	one, old := d.place(from)
	other, name := d.place(to)
	if n == nil || other == nil {
		return
	}
	d.change("rename "+from+" to "+to, []*node{one, other}, func(names func(*node) map[string]*node) {
		if names(one)[old] == n {
			delete(names(one), old)
		}
		names(other)[name] = n
	})
}

// syncNode makes a file's content, or the names in a folder, last.
func (d *PowerDisk) syncNode(n *node) {
	n.durable = n.text
	if n.names == nil {
		return
	}
	d.pending = slices.DeleteFunc(d.pending, func(c *change) bool {
		if !slices.Contains(c.in, n) {
			return false
		}
		c.synced[n] = true
		for _, in := range c.in {
			if !c.synced[in] {
				return false
			}
		}
		c.do(func(n *node) map[string]*node { return n.sure })
		return true
	})
}

// Cut is what a power cut may leave.
type Cut struct {
	What  string            // which of the changes are there
	Files map[string]string // content by path
}

// Cuts are what a power cut may leave now: of the names changed and not synced none, all, each one
// alone or all but each one; of what was written and not synced nothing, half or all.
func (d *PowerDisk) Cuts() []Cut {
	n := len(d.pending)
	kept := map[string]func(int) bool{"no name": func(int) bool { return false }}
	if n > 0 {
		kept["all names"] = func(int) bool { return true }
	}
	for i := range n {
		if n > 1 {
			kept["only to "+d.pending[i].what] = func(k int) bool { return k == i }
			kept["all but to "+d.pending[i].what] = func(k int) bool { return k != i }
		}
	}
	var cuts []Cut
	for _, what := range slices.Sorted(maps.Keys(kept)) {
		names := d.namesWith(kept[what])
		for i, of := range []string{"nothing", "half", "all"} {
			c := Cut{What: what + ", " + of + " of what was written", Files: map[string]string{}}
			collect(c.Files, "", d.root, names, i)
			cuts = append(cuts, c)
		}
	}
	return cuts
}

// namesWith are the names that last and those of the changes that are kept.
func (d *PowerDisk) namesWith(kept func(int) bool) func(*node) map[string]*node {
	state := map[*node]map[string]*node{}
	names := func(n *node) map[string]*node {
		if state[n] == nil {
			state[n] = maps.Clone(n.sure)
		}
		return state[n]
	}
	for i, c := range d.pending {
		if kept(i) {
			c.do(names)
		}
	}
	return names
}

// collect lists the files below a folder; written says how many halves of what is not synced are there.
func collect(files map[string]string, path string, n *node, names func(*node) map[string]*node, written int) {
	for name, child := range names(n) {
		at := filepath.Join(path, name)
		if child.names != nil {
			collect(files, at, child, names, written)
			continue
		}
		files[at] = child.left(written)
	}
}

// left is what is there of a file's content.
func (n *node) left(halves int) string {
	switch {
	case halves == 0:
		return n.durable
	case halves == 2 || n.text == n.durable:
		return n.text
	case strings.HasPrefix(n.text, n.durable):
		return n.text[:len(n.durable)+(len(n.text)-len(n.durable))/2]
	}
	return n.text[:len(n.text)/2]
}
