package command

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"leadmark/calib/input"
	"leadmark/calib/read"
	"leadmark/calib/runfile"
	"leadmark/vision/frame"
)

// RunFolder lets a run be named by its run.toml.
func RunFolder(run string) string {
	if info, err := os.Stat(run); err == nil && info.Mode().IsRegular() && filepath.Base(run) == runfile.RunFileName {
		return filepath.Dir(run)
	}
	return run
}

// ListFrames lists the frames of a folder.
func ListFrames(ctx context.Context, dir string) (read.Folder, error) {
	frames, refused, err := frame.List(ctx, dir)
	if err != nil {
		return read.Folder{}, err
	}
	if len(frames)+len(refused) == 0 {
		return read.Folder{}, &input.Error{File: dir, What: "holds no frames",
			Hint: "copy the frames (JPEG, PNG or TIFF) into this folder"}
	}
	return read.Folder{Frames: frames, Refused: refused}, nil
}

// HoldsNothing reports whether a folder is not there, or empty.
func HoldsNothing(dir string) bool {
	entries, err := os.ReadDir(dir)
	return errors.Is(err, fs.ErrNotExist) || err == nil && len(entries) == 0
}
