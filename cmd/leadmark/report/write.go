package report

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"

	"leadmark/calib"
	"leadmark/calib/record"
	"leadmark/calib/store"
	"leadmark/cmd/leadmark/report/annotate"
	"leadmark/cmd/leadmark/report/page"
)

// Write makes result.json, readings.csv, report.html and the annotated frames in dir, which it
// creates where there is none. The cards of a run of more than 200 frames go to files of their own,
// cards-1.html and on. Each file is replaced in one step. A file of one of these names that was not
// written by Write is left alone, and Write returns ErrNotOurs before writing anything. Where dir
// holds the same report already, nothing is written. Annotated frames and cards that an earlier run
// left in dir are taken away once all is written.
func Write(ctx context.Context, dir string, r calib.Result, o Options) error {
	names := pictureNames(r.Frames)
	if err := checkAll(dir, names, o); err != nil {
		return err
	}
	if err := store.MakeFolder(dir); err != nil {
		return fmt.Errorf("making the folder for the report: %w", err)
	}
	result, err := record.Encode(r)
	if err != nil {
		return err
	}
	stamp := stampOf(r, result, o)
	if upToDate(dir, stamp, result, names, o) {
		return nil
	}
	readings, err := readingsCSV(r)
	if err != nil {
		return fmt.Errorf("writing %s: %w", readingsFile, err)
	}
	pictures, err := writeFrames(ctx, dir, r, names, o)
	if err != nil {
		return err
	}
	if err := errors.Join(
		replace(filepath.Join(dir, resultFile), result, resultSign),
		replace(filepath.Join(dir, readingsFile), readings, readingsSign),
		replacePage(filepath.Join(dir, pageFile), page.Run(r, pictures, stamp, o.making())),
	); err != nil {
		return err
	}
	return cleanUp(dir, names, page.CardPages(len(r.Frames), o.Picture != nil), o)
}

// What tells a file of ours from anyone else's.
const (
	resultSign = `"schema": "leadmark/result/`
	// Columns were added at the end since.
	readingsSign = `file,status,reason,advance_mm,u_mm,front_x_px,front_y_px`
)

// checkAll looks before anything is written.
func checkAll(dir string, names []string, o Options) error {
	errs := []error{
		checkOurs(filepath.Join(dir, resultFile), resultSign),
		checkOurs(filepath.Join(dir, readingsFile), readingsSign),
		checkOurs(filepath.Join(dir, pageFile), page.Sign),
	}
	for k := range page.CardPages(len(names), o.Picture != nil) {
		errs = append(errs, checkOurs(filepath.Join(dir, page.CardsFile(k)), page.Sign))
	}
	if o.Picture != nil {
		errs = append(errs, checkNoLink(filepath.Join(dir, framesDir)))
		for _, n := range names {
			errs = append(errs, checkOurs(filepath.Join(dir, framesDir, n), annotate.Sign))
		}
	}
	return errors.Join(errs...)
}
