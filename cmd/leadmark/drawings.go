package main

import (
	"errors"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"leadmark/calib"
	"leadmark/frame"
	"leadmark/keep"
	"leadmark/report"
	"leadmark/ruler"
)

// drawings is a folder for single pictures with what was found drawn on them.
type drawings struct {
	dir     string
	taken   map[string]bool // names given, in lower case
	written int
}

// newDrawings makes the folder; nil where none is asked for.
func newDrawings(dir string) (*drawings, error) {
	if dir == "" {
		return nil, nil
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return nil, &calib.InputError{File: dir, What: "cannot take the pictures", Err: errors.Unwrap(err), Hint: "choose another folder with --out DIR"}
	}
	keep.Sweep(keep.System(), dir)
	return &drawings{dir: dir, taken: map[string]bool{}}, nil
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
	shown := calib.FrameResult{Frame: f, Status: r.Status, Reason: r.Reason, Reading: r, PxPerM: r.PxPerM}
	if r.Front != nil {
		shown.FrontPX = r.Front.At
	}
	if err := report.Replace(filepath.Join(d.dir, d.name(f.Name)), report.Annotate(clip, shown)); err != nil {
		return err
	}
	d.written++
	return nil
}
