package report

import (
	"bytes"
	"encoding/csv"
	"errors"
	"path/filepath"
	"strconv"

	"leadmark/calib/shoot"
	"leadmark/cmd/leadmark/report/page"
)

// The files that WriteShoot makes beside the contact sheet.
const (
	ShootFile  = "shoot.json"
	framesFile = "frames.csv"
)

// WriteShoot writes the files of a check to a folder, each in one step, over earlier ones of ours
// alone: shoot.json, a table of the frames and the contact sheet, best first; of a long shoot the
// sheet has further pages, contact-2.html and on.
func WriteShoot(dir string, r shoot.Result) error {
	text, err := shoot.Encode(r)
	if err != nil {
		return err
	}
	table, err := framesTable(r)
	if err != nil {
		return err
	}
	if err := errors.Join(replace(filepath.Join(dir, ShootFile), text, shoot.Schema),
		replace(filepath.Join(dir, framesFile), table, "file,status,rating")); err != nil {
		return err
	}
	return writeSheets(dir, r)
}

// writeSheets writes the pages of the contact sheet one after another, and takes away those that a
// longer shoot left.
func writeSheets(dir string, r shoot.Result) error {
	var names []string
	for name, p := range page.Sheets(r) {
		if err := replacePage(filepath.Join(dir, name), p); err != nil {
			return err
		}
		names = append(names, name)
	}
	return cleanUpFiles(dir, page.SheetFiles, page.SheetSign, names)
}

// framesTable is frames.csv; a cell is empty where the frame does not tell.
func framesTable(r shoot.Result) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	rows := [][]string{{"file", "status", "rating", "whole", "in_reach", "lead_mm", "height_mm", "sharp", "cause",
		"edge_width_px", "motion_blur_px", "clipped_fraction", "backdrop_clean", "reason"}}
	for _, f := range shoot.NewDocument(r).Frames {
		rows = append(rows, []string{f.File, string(f.Status), strconv.Itoa(f.Rating), yesNo(f.Whole),
			yesNo(f.InReach), cell(f.LeadMM), cell(f.HeightMM),
			yesNo(f.Sharp), f.Cause, cell(f.EdgeWidth), cell(f.MotionBlur), cell(f.Clipped), yesNo(f.Clean), f.Reason})
	}
	err := w.WriteAll(rows)
	return b.Bytes(), err
}

func yesNo(b *bool) string {
	switch {
	case b == nil:
		return ""
	case *b:
		return "yes"
	}
	return "no"
}

func cell(x *float64) string {
	if x == nil {
		return ""
	}
	return strconv.FormatFloat(*x, 'f', -1, 64)
}
