package frame

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"slices"
	"syscall"

	"leadmark/fit/note"
	"leadmark/vision/frame/integrity"
)

// readFile reads an ordinary file of bounded size; info is of the file before it was read.
func readFile(path string) (data []byte, info fs.FileInfo, bad note.Note) {
	file, info, bad := openPlain(path)
	if !bad.None() {
		return nil, nil, bad
	}
	defer file.Close()
	data = make([]byte, 0, info.Size()+1) // one more, so that the end is seen without growing
	for {
		n, err := file.Read(data[len(data):cap(data)])
		data = data[:len(data)+n]
		switch {
		case errors.Is(err, io.EOF):
			return data, info, note.Note{}
		case err != nil:
			return nil, nil, unreadable(err)
		case len(data) > integrity.MaxBytes:
			return nil, nil, integrity.TooLarge(int64(len(data)))
		case len(data) == cap(data): // it grew while it was read
			data = slices.Grow(data, 1<<20)
		}
	}
}

// unreadable says in a person's words why a file cannot be opened.
func unreadable(err error) note.Note {
	var at *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return note.Of("unreadable", "missing")
	case errors.Is(err, fs.ErrPermission):
		return note.Of("unreadable", "permission")
	case errors.As(err, &at):
		return note.Of("unreadable", "error", at.Err)
	}
	return note.Of("unreadable", "error", err)
}

// openPlain opens an ordinary file of bounded size; info is of the file that is open, whatever has
// its name by now.
func openPlain(path string) (file *os.File, info fs.FileInfo, bad note.Note) {
	// before opening, which some devices take as a command
	if info, err := os.Stat(path); err != nil {
		return nil, nil, unreadable(err)
	} else if bad := plain(info); !bad.None() {
		return nil, nil, bad
	}
	// a pipe put there meanwhile would wait for ever
	file, err := os.OpenFile(path, os.O_RDONLY|syscall.O_NONBLOCK, 0)
	if err != nil {
		return nil, nil, unreadable(err)
	}
	if info, err = file.Stat(); err != nil {
		bad = unreadable(err)
	} else {
		bad = plain(info)
	}
	if !bad.None() {
		_ = file.Close() // nothing was written
		return nil, nil, bad
	}
	return file, info, note.Note{}
}

func plain(info fs.FileInfo) note.Note {
	switch {
	case !info.Mode().IsRegular():
		return note.Of("unreadable", "not-a-file")
	case info.Size() > integrity.MaxBytes:
		return integrity.TooLarge(info.Size())
	}
	return note.Note{}
}
