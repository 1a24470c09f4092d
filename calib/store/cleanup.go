package store

import (
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// forgotten is the age from which a part counts as left behind where locks do not tell.
const forgotten = 24 * time.Hour

// Cleanup takes away what killed programs left of new files and folders in a folder. A part that a
// program is at stays, and so does whatever does not look like a part of ours. What a leftover is a
// second name of keeps its content: nothing is opened for writing.
func Cleanup(d Disk, dir string) {
	f, err := os.Open(dir)
	if err != nil {
		return
	}
	names, _ := f.Readdirnames(-1)
	_ = f.Close()
	for _, name := range names {
		if isPart(name) {
			sweepPart(d, filepath.Join(dir, name))
		}
	}
}

// sweepFor is Cleanup of the folder of a file, and takes what older versions left of that file as well.
func sweepFor(d Disk, path string) {
	Cleanup(d, filepath.Dir(path))
	old := oldPart(path)
	if info, err := os.Lstat(old); err == nil && info.Mode().IsRegular() && (links(info) > 1 || isForgotten(info)) {
		_ = d.Remove(old)
	}
}

// sweepPart takes one leftover away, if it is one.
func sweepPart(d Disk, path string) {
	info, err := os.Lstat(path)
	if err != nil || !info.Mode().IsRegular() && !info.IsDir() {
		return
	}
	if info.Mode().IsRegular() && links(info) > 1 { // it has got its name, and is only the second one
		_ = d.Remove(path)
		return
	}
	lock, held := tryHold(path)
	if held == unheld || held == unknown && !isForgotten(info) {
		return
	}
	if info.IsDir() {
		_ = os.RemoveAll(path)
	} else {
		_ = d.Remove(path)
	}
	if lock != nil {
		_ = lock.Close()
	}
}

func isForgotten(info fs.FileInfo) bool { return time.Since(info.ModTime()) > forgotten }
