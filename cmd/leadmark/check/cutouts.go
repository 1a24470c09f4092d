package check

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image/png"
	"os"
	"path/filepath"
	"strings"

	"leadmark/calib/input"
	"leadmark/calib/shoot"
	"leadmark/calib/store"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/output"
	"leadmark/cmd/leadmark/terminal"
	"leadmark/vision/subject"
)

// cutouts writes the animal of each frame that shows one to a folder, as PNG with opacity. No file
// that is there is replaced without force; the caller has seen to it that the folder is not the
// frames' own. It returns how many were written.
func cutouts(ctx context.Context, env *command.Env, scene *subject.Finder, r shoot.Result, dir string,
	force bool) (int, error) {
	if err := free(r, dir, force); err != nil {
		return 0, err
	}
	if err := env.Written.Make(dir); err != nil {
		return 0, &input.Error{File: dir, What: "cannot be made", Err: errors.Unwrap(err),
			Hint: "name a folder for the cut-outs where you may write"}
	}
	store.Cleanup(store.System(), dir)
	bar := terminal.NewProgress(env.Stderr, "cutting out")
	defer bar.End()
	n := 0
	cuts := output.Kind{One: "1 cut-out", Many: "cut-outs", Where: " in " + dir}
	for i, f := range r.Frames {
		bar.Step(i+1, len(r.Frames), f.Name)
		if err := ctx.Err(); err != nil {
			return n, err
		}
		if f.Status != shoot.Found {
			continue
		}
		img, err := scene.Cutout(ctx, f.Frame, animalHint(r.Plan.Request.Subject.Length*r.Setup.Scale, r.Setup.Travel))
		if err != nil {
			return n, fmt.Errorf("cutting out %s: %w", f.Name, words.Err(err))
		}
		if img == nil {
			continue
		}
		var b bytes.Buffer
		if err := (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&b, img); err != nil {
			return n, fmt.Errorf("cutting out %s: %w", f.Name, err)
		}
		path := cutoutPath(dir, f.Name)
		err = env.Written.Step(cuts, path, func() (int, error) {
			return output.Renewed(path, func() error { return writeNew(path, b.Bytes(), force) })
		})
		if err != nil {
			return n, err
		}
		n++
	}
	return n, store.Settle(store.System(), dir)
}

func cutoutPath(dir, frame string) string {
	return filepath.Join(dir, strings.TrimSuffix(frame, filepath.Ext(frame))+"-cutout.png")
}

// free finds before the work, and before anything else is written, that a cut-out is there already.
func free(r shoot.Result, dir string, force bool) error {
	for _, f := range r.Frames {
		path := cutoutPath(dir, f.Name)
		if _, err := os.Lstat(path); err == nil && !force && f.Status == shoot.Found {
			return isThere(path)
		}
	}
	return nil
}

func isThere(path string) error {
	return &input.Error{File: path, What: "is there already", Hint: "name another folder, or add --force"}
}

// apart says what is wrong where a folder is that of the frames.
func apart(dir, frames string) error {
	a, err := os.Stat(dir)
	if err != nil {
		return nil // not there yet
	}
	if b, err := os.Stat(frames); err == nil && os.SameFile(a, b) {
		return &input.Error{File: dir, What: "is the folder of the frames",
			Hint: "name another folder for the cut-outs: nothing is written among the pictures"}
	}
	return nil
}

// writeNew writes a file that is not there yet or, with force, in the place of one that is.
func writeNew(path string, data []byte, force bool) error {
	way := store.Way{Many: true}
	if force {
		return way.Replace(store.System(), path, store.Text(data))
	}
	made, err := way.Create(store.System(), path, store.Text(data))
	if err == nil && !made {
		return isThere(path)
	}
	return err
}
