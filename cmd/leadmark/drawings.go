package main

import (
	"errors"
	"path/filepath"
	"strconv"
	"strings"

	"leadmark/calib"
	"leadmark/calib/input"
	"leadmark/calib/read"
	"leadmark/calib/store"
	"leadmark/cmd/leadmark/output"
	"leadmark/cmd/leadmark/report"
	"leadmark/cmd/leadmark/report/annotate"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// drawings is a folder for single pictures with what was found drawn on them.
type drawings struct {
	to      *output.Ledger
	dir     string
	taken   map[string]bool // names given, in lower case
	written int
}

// newDrawings makes the folder; nil where none is asked for.
func newDrawings(to *output.Ledger, dir string) (*drawings, error) {
	if dir == "" {
		return nil, nil
	}
	if err := to.Make(dir); err != nil {
		return nil, &input.Error{File: dir, What: "cannot take the pictures", Err: errors.Unwrap(err),
			Hint: "choose another folder with --out DIR"}
	}
	store.Cleanup(store.System(), dir)
	return &drawings{to: to, dir: dir, taken: map[string]bool{}}, nil
}

// name is the picture's own without its ending, numbered where two would be the same.
func (d *drawings) name(picture string) string {
	stem := strings.TrimSuffix(picture, filepath.Ext(picture))
	name := stem
	for k := 2; d.taken[strings.ToLower(name)]; k++ {
		name = stem + "-" + strconv.Itoa(k)
	}
	d.taken[strings.ToLower(name)] = true
	return name + ".svg"
}

// draw writes one picture. One that cannot be shown is left out: the table says why it was refused.
func (d *drawings) draw(f frame.Frame, r ruler.Reading, clip ruler.Clip) error {
	if d == nil || len(clip.JPEG) == 0 {
		return nil
	}
	shown := calib.FrameResult{Shot: read.Shot{Frame: f, Status: r.Status, Reason: r.Reason, Reading: r,
		PxPerM: r.PxPerM}}
	if r.Front != nil {
		shown.FrontPX = r.Front.At
	}
	path := filepath.Join(d.dir, d.name(f.Name))
	pictures := output.Kind{One: "1 picture", Many: "pictures", Where: " in " + d.dir}
	err := d.to.Step(pictures, path, func() (int, error) {
		return output.Renewed(path, func() error {
			return report.Replace(path, annotate.Frame(clip, shown,
				annotate.Trip{}))
		})
	})
	if err != nil {
		return err
	}
	d.written++
	return nil
}

// settle returns when the pictures' names are on the disk.
func (d *drawings) settle() error {
	if d == nil {
		return nil
	}
	return store.Settle(store.System(), d.dir)
}
