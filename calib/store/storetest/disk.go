// Package storetest gives disks that fail, for tests of what package store promises: at a chosen
// step such a disk reports an error, writes only half, or is the last thing that the program did;
// and it forgets, when the power is cut, what was not synced.
package storetest

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"syscall"

	"leadmark/calib/store"
)

// Fault is what happens at the step.
type Fault int

const (
	None  Fault = iota // nothing: the steps are counted
	Error              // the step does nothing and reports an input/output error
	Full               // a write writes half and reports a full disk; any other step reports it
	Kill               // the step is done, and then the program is killed: nothing more is done
	Power              // as Kill, and what was not synced is lost: names, and half of what was written
	Stuck              // from the step on every step fails, as on a disk that was pulled out
)

// Faults are all of them.
func Faults() []Fault { return []Fault{Error, Full, Kill, Power, Stuck} }

// String names a fault.
func (f Fault) String() string {
	return [...]string{"none", "error", "disk full", "killed after it", "power cut after it", "disk gone"}[f]
}

// Disk is a disk of the system that fails at one step.
type Disk struct {
	at    int // the step, counted from 1
	fault Fault
	dead  bool
	steps []string
	files map[string]int64 // bytes of each file that are surely on the disk
	names []func()         // undo names given since the last sync of the folder
}

// New makes a disk that fails at a step, counted from 1.
func New(at int, fault Fault) *Disk {
	return &Disk{at: at, fault: fault, files: map[string]int64{}}
}

// Steps are the steps that were asked for, in words.
func (d *Disk) Steps() []string { return d.steps }

// Failed says whether the step was reached.
func (d *Disk) Failed() bool { return len(d.steps) >= d.at }

// step does one step, or not; half is what is done of it by a disk that is full.
func (d *Disk) step(what string, do func() error, half func()) error {
	if d.dead {
		return syscall.EIO // the program is gone: nothing that it does counts
	}
	d.steps = append(d.steps, what)
	n := len(d.steps)
	switch {
	case n == d.at && d.fault == Error, n >= d.at && d.fault == Stuck:
		return &fs.PathError{Op: what, Path: "", Err: syscall.EIO}
	case n == d.at && d.fault == Full:
		if half != nil {
			half()
		}
		return &fs.PathError{Op: what, Path: "", Err: syscall.ENOSPC}
	}
	err := do()
	if n == d.at && (d.fault == Kill || d.fault == Power) {
		d.dead = true
		if d.fault == Power {
			d.Forget()
		}
	}
	return err
}

// Forget takes back what was not synced, as a power cut does.
func (d *Disk) Forget() {
	for path, sure := range d.files {
		info, err := os.Stat(path)
		if err == nil && info.Size() > sure {
			_ = os.Truncate(path, sure+(info.Size()-sure)/2)
		}
	}
	for _, undo := range slices.Backward(d.names) {
		undo()
	}
}

// OpenFile opens a file.
func (d *Disk) OpenFile(path string, flag int, mode fs.FileMode) (store.File, error) {
	f := &file{disk: d, path: path}
	err := d.step("open "+filepath.Base(path), func() (err error) {
		_, was := os.Lstat(path)
		if f.File, err = os.OpenFile(path, flag, mode); err != nil {
			return err
		}
		info, err := f.File.Stat()
		if err == nil {
			d.files[path] = info.Size()
		}
		if was != nil {
			d.names = append(d.names, func() { _ = os.Remove(path) })
		}
		return err
	}, nil)
	return f, err
}

// Rename gives a file another name.
func (d *Disk) Rename(from, to string) error {
	return d.step(fmt.Sprintf("rename %s to %s", filepath.Base(from), filepath.Base(to)), func() error {
		old, was := os.ReadFile(to)
		if err := os.Rename(from, to); err != nil {
			return err
		}
		d.move(from, to)
		d.names = append(d.names, func() {
			_ = os.Rename(to, from)
			if was == nil {
				_ = os.WriteFile(to, old, 0o666)
			}
		})
		return nil
	}, nil)
}

// Link gives a file a second name.
func (d *Disk) Link(from, to string) error {
	return d.step(fmt.Sprintf("link %s as %s", filepath.Base(from), filepath.Base(to)), func() error {
		if err := os.Link(from, to); err != nil {
			return err
		}
		d.files[to] = d.files[from]
		d.names = append(d.names, func() { _ = os.Remove(to) })
		return nil
	}, nil)
}

// Move gives a file another name that is free.
func (d *Disk) Move(from, to string) error {
	return d.step(fmt.Sprintf("move %s to %s", filepath.Base(from), filepath.Base(to)), func() error {
		if err := store.System().Move(from, to); err != nil {
			return err
		}
		d.move(from, to)
		d.names = append(d.names, func() { _ = os.Rename(to, from) })
		return nil
	}, nil)
}

func (d *Disk) move(from, to string) {
	d.files[to] = d.files[from]
	delete(d.files, from)
}

// Remove takes a file away. A power cut may bring it back: it is put back.
func (d *Disk) Remove(path string) error {
	return d.step("remove "+filepath.Base(path), func() error {
		old, was := os.ReadFile(path)
		if err := os.Remove(path); err != nil {
			return err
		}
		sure, known := d.files[path]
		if !known { // it was there before
			sure = int64(len(old))
		}
		delete(d.files, path)
		d.names = append(d.names, func() {
			if was == nil {
				_ = os.WriteFile(path, old[:min(int(sure), len(old))], 0o666)
			}
		})
		return nil
	}, nil)
}

// SyncFolder makes the names last.
func (d *Disk) SyncFolder(string) error {
	return d.step("sync the folder", func() error {
		d.names = nil
		return nil
	}, nil)
}

// file is an open file of a Disk.
type file struct {
	*os.File
	disk *Disk
	path string
}

// Write writes, or half.
func (f *file) Write(p []byte) (n int, err error) {
	err = f.disk.step("write "+filepath.Base(f.path), func() (err error) {
		n, err = f.File.Write(p)
		return err
	}, func() { n, _ = f.File.Write(p[:len(p)/2]) })
	return n, err
}

// Chmod sets the permissions.
func (f *file) Chmod(mode fs.FileMode) error {
	return f.disk.step("chmod "+filepath.Base(f.path), func() error { return f.File.Chmod(mode) }, nil)
}

// Truncate cuts the file.
func (f *file) Truncate(size int64) error {
	return f.disk.step("cut "+filepath.Base(f.path), func() error {
		f.disk.files[f.path] = min(f.disk.files[f.path], size)
		return f.File.Truncate(size)
	}, nil)
}

// Sync makes the content last.
func (f *file) Sync() error {
	return f.disk.step("sync "+filepath.Base(f.path), func() error {
		info, err := f.File.Stat()
		if err == nil {
			f.disk.files[f.path] = info.Size()
		}
		return err
	}, nil)
}

// Close closes the file in any case.
func (f *file) Close() error {
	closed := false
	err := f.disk.step("close "+filepath.Base(f.path), func() error {
		closed = true
		return f.File.Close()
	}, nil)
	if !closed {
		_ = f.File.Close()
	}
	return err
}
