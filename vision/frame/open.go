package frame

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"slices"
	"syscall"

	"leadmark/vision/frame/integrity"
)

// readFile reads an ordinary file of bounded size; info is of the file before it was read.
func readFile(path string) (data []byte, info fs.FileInfo, bad *integrity.Fault) {
	file, info, bad := openPlain(path)
	if bad != nil {
		return nil, nil, bad
	}
	defer file.Close()
	data = make([]byte, 0, info.Size()+1) // one more, so that the end is seen without growing
	for {
		n, err := file.Read(data[len(data):cap(data)])
		data = data[:len(data)+n]
		switch {
		case errors.Is(err, io.EOF):
			return data, info, nil
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
func unreadable(err error) *integrity.Fault {
	var at *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return integrity.Faultf("unreadable", "there is no such file")
	case errors.Is(err, fs.ErrPermission):
		return integrity.Faultf("unreadable", "its permissions do not let you read it")
	case errors.As(err, &at):
		return integrity.Faultf("unreadable", "it cannot be read: %v", at.Err)
	}
	return integrity.Faultf("unreadable", "it cannot be read: %v", err)
}

// openPlain opens an ordinary file of bounded size; info is of the file that is open, whatever has
// its name by now.
func openPlain(path string) (file *os.File, info fs.FileInfo, bad *integrity.Fault) {
	// before opening, which some devices take as a command
	if info, err := os.Stat(path); err != nil {
		return nil, nil, unreadable(err)
	} else if bad := plain(info); bad != nil {
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
	if bad != nil {
		_ = file.Close() // nothing was written
		return nil, nil, bad
	}
	return file, info, nil
}

func plain(info fs.FileInfo) *integrity.Fault {
	switch {
	case !info.Mode().IsRegular():
		return integrity.Faultf("unreadable", "it is not an ordinary file")
	case info.Size() > integrity.MaxBytes:
		return integrity.TooLarge(info.Size())
	}
	return nil
}
