package output

import (
	"bytes"
	"context"
	"errors"
	"io"
	"io/fs"

	"leadmark/calib/input"
	"leadmark/calib/store"
)

// Print writes a file that was asked for, unless the command was stopped.
func (w *Ledger) Print(ctx context.Context, path string, write func(io.Writer) error) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	return w.File(path, func() error { return overPrint(path, write) })
}

// overPrint writes a file whole or not at all, and only over an earlier print of ours.
func overPrint(path string, write func(io.Writer) error) error {
	old, err := input.ReadBounded(path, 64<<20)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return &input.Error{File: path, What: "cannot be written: something else is there", Err: err}
	case !bytes.Contains(old, []byte("leadmark")):
		return &input.Error{File: path, What: "is there already and is no print of this program; nothing was " +
			"written", Hint: "name another file"}
	}
	var b bytes.Buffer
	if err := write(&b); err != nil {
		return err
	}
	return store.Replace(store.System(), path, b.Bytes())
}
