package store

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"leadmark/calib/input"
)

// Lines is a file of JSON lines that only grows.
type Lines struct {
	Path string
	Most int64  // bytes that it may have
	Torn string // what a torn last line's own file is called, before its number
}

// Append adds a line, made from what is there, and returns when it is on the disk. A last line that
// a crash left torn is moved to a file of its own, whose path is returned; nothing else is touched.
// After an error the file is byte for byte what it was; where even that cannot be had, the error
// says so.
func (l Lines) Append(d Disk, line func(before []byte) ([]byte, error)) (torn string, err error) {
	made, err := l.look()
	if err != nil {
		return "", err
	}
	file, err := d.OpenFile(l.Path, os.O_RDWR|os.O_APPEND|os.O_CREATE|noFollow, 0o666)
	if err != nil {
		return "", failure(l.Path, err)
	}
	torn, err = l.add(d, file, line)
	if closed := file.Close(); err == nil && closed != nil {
		err = unsure(l.Path, closed) // it was synced before
	}
	if err != nil {
		if made && !isUnsure(err) {
			_ = d.Remove(l.Path)
		}
		return torn, err
	}
	return torn, folder(d, l.Path)
}

// look refuses what must not be added to: a pipe would be waited for for ever, and a link may lead
// to a file that is none of ours.
func (l Lines) look() (missing bool, err error) {
	info, err := os.Lstat(l.Path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return true, nil
	case err != nil:
		return false, failure(l.Path, err)
	case info.Mode()&fs.ModeSymlink != 0:
		return false, &input.Error{File: l.Path, What: "is a link to another file, and nothing was added",
			Hint: "put the file itself in its place"}
	case !info.Mode().IsRegular():
		return false, &input.Error{File: l.Path, What: "is not a file, and nothing was added",
			Hint: "move away what stands there"}
	}
	return false, nil
}

// Ready finds, before long work and without a trace, that nothing could be added.
func (l Lines) Ready() error {
	missing, err := l.look()
	if err != nil {
		return err
	}
	if missing {
		return Writable(filepath.Dir(l.Path))
	}
	file, err := os.OpenFile(l.Path, os.O_WRONLY|os.O_APPEND|noFollow, 0)
	if err != nil {
		return err
	}
	return file.Close()
}

// add works on the open file.
func (l Lines) add(d Disk, file File, line func(before []byte) ([]byte, error)) (torn string, err error) {
	before, err := io.ReadAll(io.LimitReader(file, l.Most+1))
	if err != nil {
		return "", failure(l.Path, err)
	}
	if int64(len(before)) > l.Most {
		return "", &input.Error{File: l.Path, What: fmt.Sprintf("is larger than %d MB, and nothing was added",
			l.Most>>20), Hint: "move it away, and keep it"}
	}
	text, err := line(before)
	if err != nil {
		return "", err
	}
	whole, rest := SplitTorn(before)
	if rest != nil {
		if torn, err = l.keepTorn(d, rest); err != nil {
			return "", err
		}
	}
	if len(whole) > 0 && whole[len(whole)-1] != '\n' {
		text = append([]byte("\n"), text...) // a whole last line that only lacks its end
	}
	if err := put(file, before, int64(len(whole)), text); err != nil {
		if torn != "" && !isUnsure(err) {
			_ = d.Remove(torn)
			torn = ""
		}
		return torn, told(l.Path, err)
	}
	return torn, nil
}

// SplitTorn parts the text of the whole lines from a torn last one, nil where there is none.
func SplitTorn(text []byte) (whole, torn []byte) {
	end := bytes.LastIndexByte(text, '\n') + 1
	last := text[end:]
	if len(bytes.TrimSpace(last)) == 0 || json.Valid(last) { // whole, only its end was taken off
		return text, nil
	}
	return text[:end], last
}

// keepTorn writes a torn line to a file of its own, so that nothing is lost.
func (l Lines) keepTorn(d Disk, torn []byte) (string, error) {
	const most = 10_000
	for i := 1; i <= most; i++ {
		path := filepath.Join(filepath.Dir(l.Path), fmt.Sprintf("%s.%d", l.Torn, i))
		made, err := Create(d, path, torn)
		if made || err != nil && !errors.Is(err, ErrFaster) {
			return path, err
		}
	}
	return "", &input.Error{File: l.Path, What: "has a torn last line, and ten thousand of them were put " +
		"aside before", Hint: "look at the disk, and move those files away"}
}

// errUndo marks an error after which the old bytes could not be put back.
var errUndo = errors.New("and what was begun could not be undone")

// put cuts a torn end off and adds the text; on failure it puts the old bytes back.
func put(file File, before []byte, keep int64, text []byte) error {
	var err error
	if keep < int64(len(before)) {
		err = file.Truncate(keep)
	}
	if err == nil {
		_, err = file.Write(text)
	}
	if err == nil {
		err = file.Sync()
	}
	if err == nil {
		return nil
	}
	undo := file.Truncate(keep)
	if undo == nil && keep < int64(len(before)) {
		_, undo = file.Write(before[keep:])
	}
	if undo == nil {
		undo = file.Sync()
	}
	if undo != nil {
		return errors.Join(err, errUndo, undo)
	}
	return err
}

// told tells a failure after which all is as it was from one after which it is not sure.
func told(path string, err error) error {
	if errors.Is(err, errUndo) {
		return unsure(path, err)
	}
	return failure(path, err)
}
