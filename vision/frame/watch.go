package frame

import (
	"errors"
	"io"
	"io/fs"
	"leadmark/fit/parallel"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// Watcher follows a folder into which pictures are being written, by a tether or a copy from a
// card. A file counts as written when its structure is whole to the end; until then it is waited
// for, however long it grows. Files are told by looking again and again: that works on every disk
// and share, and a look at an unchanged folder is one call.
type Watcher struct {
	dir    string
	files  map[string]*watched
	listed time.Time // when every file was last looked at
	folder time.Time // the folder's own time then
}

// watched is one file of the folder.
type watched struct {
	info  fs.FileInfo
	since time.Time // it has not changed since
	tried bool      // opened as it is now
	done  bool      // told, as it is now
}

// Change is what a look at the folder shows since the look before.
type Change struct {
	Frames  []Frame   // pictures that are whole now: new ones, and such as were written anew
	Refused []Refusal // files that are whole, or given up, and cannot be used
	Gone    []string  // told before, and no longer there
	Waiting []string  // still being written
	More    bool      // there are more to tell: look again at once
}

// Nothing reports whether nothing came and nothing went.
func (c Change) Nothing() bool { return len(c.Frames)+len(c.Refused)+len(c.Gone) == 0 }

// NewWatcher follows a folder.
func NewWatcher(dir string) *Watcher { return &Watcher{dir: dir, files: map[string]*watched{}} }

// Look looks at the folder as it is at the time now.
func (w *Watcher) Look(now time.Time) (Change, error) {
	var c Change
	if err := w.list(now, &c); err != nil {
		return c, err
	}
	w.open(now, &c)
	for name, f := range w.files {
		if !f.done {
			c.Waiting = append(c.Waiting, name)
		}
	}
	slices.SortFunc(c.Waiting, CompareNames)
	return c, nil
}

// list finds the files that came, changed or went.
func (w *Watcher) list(now time.Time, c *Change) error {
	info, err := os.Stat(w.dir)
	if err != nil {
		return folderError(w.dir, err)
	}
	all := now.Sub(w.listed) >= relist || !info.ModTime().Equal(w.folder)
	if !all {
		for name, f := range w.files {
			if !f.done {
				w.stamp(name, now)
			}
		}
		return nil
	}
	entries, err := os.ReadDir(w.dir)
	if err != nil {
		return folderError(w.dir, err)
	}
	w.listed, w.folder = now, info.ModTime()
	there := map[string]bool{}
	for _, name := range pictureNames(entries) {
		there[name] = w.stamp(name, now)
	}
	for name := range w.files {
		if !there[name] {
			delete(w.files, name)
			c.Gone = append(c.Gone, name)
		}
	}
	slices.SortFunc(c.Gone, CompareNames)
	return nil
}

// stamp notes how a file is now; false where it is no file any more.
func (w *Watcher) stamp(name string, now time.Time) bool {
	info, err := os.Stat(filepath.Join(w.dir, name))
	if err != nil || info.IsDir() {
		return false
	}
	if f := w.files[name]; f == nil || !Unchanged(f.info, info) {
		w.files[name] = &watched{info: info, since: now}
	}
	return true
}

// open opens the files that may be whole, several at a time, and tells what they are.
func (w *Watcher) open(now time.Time, c *Change) {
	var names []string
	for name, f := range w.files {
		if !f.done && w.due(name, f, now) {
			names = append(names, name)
		}
	}
	slices.SortFunc(names, CompareNames)
	if len(names) > mostOpened {
		names, c.More = names[:mostOpened], true
	}
	seen := make([]listed, len(names))
	parallel.Each(len(names), 0, func(i int) { seen[i] = listOne(names[i], filepath.Join(w.dir, names[i])) })
	for i, name := range names {
		w.classify(w.files[name], seen[i], now, c)
	}
}

// due says whether it is time to open a file: once when its end shows that it is whole, once when
// it has been calm, and once more before it is given up.
func (w *Watcher) due(name string, f *watched, now time.Time) bool {
	quiet := now.Sub(f.since)
	switch {
	case kindOf(name) == kindOther || quiet >= patience:
		return true
	case f.tried:
		return false
	}
	return quiet >= calm || endsWhole(filepath.Join(w.dir, name), f.info.Size())
}

// classify tells what an opened file is, or leaves it to wait.
func (w *Watcher) classify(f *watched, l listed, now time.Time, c *Change) {
	switch {
	case l.folder:
		f.done = true
	case l.bad == nil && !Unchanged(f.info, l.info):
		f.info, f.since, f.tried = l.info, now, false // it changed meanwhile
	case l.bad == nil:
		f.done = true
		c.Frames = append(c.Frames, l.frame)
	case now.Sub(f.since) >= patience || kindOf(l.bad.Name) == kindOther:
		f.done = true
		c.Refused = append(c.Refused, *l.bad)
	default:
		f.tried = true
	}
}

// endsWhole says whether a file's last bytes are those with which its kind ends (JPEG: the
// end-of-image marker, T.81 B.1; PNG: the chunk IEND). The structure is followed only then: a copy
// of many megabytes is not read again and again.
func endsWhole(path string, size int64) bool {
	if size < leastFile {
		return false
	}
	file, _, bad := openPlain(path)
	if !bad.None() {
		return false
	}
	defer file.Close()
	tail := make([]byte, 12)
	if n, err := file.ReadAt(tail, size-int64(len(tail))); n < len(tail) &&
		!errors.Is(err, io.EOF) {
		return false
	}
	switch strings.ToLower(filepath.Ext(path)) {
	case ".jpg", ".jpeg":
		return tail[10] == 0xFF && tail[11] == 0xD9 // end of image (ITU-T T.81)
	case ".png":
		return string(tail[4:8]) == "IEND"
	}
	return false
}
