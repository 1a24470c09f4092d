package report

import (
	"bytes"
	"cmp"
	"encoding/base64"
	"encoding/csv"
	"errors"
	"fmt"
	"html/template"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"leadmark/calib/plan"
	"leadmark/calib/shoot"
	"leadmark/cmd/leadmark/report/summary"
	"leadmark/vision/animal"
)

// The files that WriteShoot makes.
const (
	ShootFile    = "shoot.json"
	framesFile   = "frames.csv"
	contactFile  = "contact.html"
	contactPages = "contact-*.html" // of a long shoot, beside the first
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

// sheetView is one page of the contact sheet.
type sheetView struct {
	Sign   string
	Lines  []string
	Doubts []plan.Warning
	Cards  []contactCard
	This   frameLink
	Pages  []frameLink // none where there is but one
}

// writeSheets writes the pages of the contact sheet one after another, and takes away those that a
// longer shoot left.
func writeSheets(dir string, r shoot.Result) error {
	frames := best(r.Frames)
	v := sheetView{Sign: contactSign, Lines: summary.Shoot(r), Doubts: r.Warnings}
	var pages []frameLink
	for k := range max(1, cardPages(len(frames), true)) {
		pages = append(pages, frameLink{pageLink(k, len(frames)).Name, sheetFile(k)})
	}
	if len(pages) > 1 {
		v.Pages = pages
	}
	var names []string
	for k, page := range pages {
		v.This, v.Cards = page, nil
		for _, f := range frames[k*mostCards : min((k+1)*mostCards, len(frames))] {
			v.Cards = append(v.Cards, card(f))
		}
		if err := replacePage(filepath.Join(dir, page.Href), contactFile, v); err != nil {
			return err
		}
		v.Lines = nil // they stand on the first
		names = append(names, page.Href)
	}
	return sweepFiles(dir, contactPages, contactSign, names)
}

// sheetFile names page k of the contact sheet.
func sheetFile(k int) string {
	if k == 0 {
		return contactFile
	}
	return strings.Replace(contactPages, "*", strconv.Itoa(k+1), 1)
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

const contactSign = "leadmark contact sheet"

// contactCard is one frame on the sheet.
type contactCard struct {
	Name, Rated, Text string
	URL               template.URL
	W, H              int
	Outline, Nose     string
}

// Best orders frames by rating, then by how sharp they are, then by name.
func best(frames []shoot.FrameResult) []shoot.FrameResult {
	all := slices.Clone(frames)
	width := func(f shoot.FrameResult) float64 {
		if !f.Measured {
			return 1e9
		}
		return f.Animal.Edges.Width
	}
	slices.SortStableFunc(all, func(a, b shoot.FrameResult) int {
		return cmp.Or(cmp.Compare(b.Rating, a.Rating), cmp.Compare(width(a), width(b)))
	})
	return all
}

func card(f shoot.FrameResult) contactCard {
	c := contactCard{Name: f.Name, Rated: fmt.Sprintf("%s%s %d of 5", strings.Repeat("●", f.Rating),
		strings.Repeat("○", 5-f.Rating), f.Rating), Text: frameText(f), W: f.Thumb.Width, H: f.Thumb.Height}
	if len(f.Thumb.JPEG) > 0 {
		c.URL = template.URL("data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(f.Thumb.JPEG))
	}
	if f.Animal == nil || f.Thumb.Scale == 0 {
		return c
	}
	at := func(p animal.Point) string {
		return fmt.Sprintf("%.1f %.1f", (p.X+0.5)/f.Thumb.Scale, (p.Y+0.5)/f.Thumb.Scale)
	}
	var b strings.Builder
	step := max(1, len(f.Animal.Outline)/160)
	for i := 0; i < len(f.Animal.Outline); i += step {
		b.WriteString(map[bool]string{true: "M", false: "L"}[i == 0] + at(f.Animal.Outline[i]))
	}
	c.Outline, c.Nose = b.String()+"Z", "M"+at(f.Animal.Nose)+"m-5 0h10m-5 -5v10"
	return c
}

// frameText is a frame in a few words.
func frameText(f shoot.FrameResult) string {
	switch {
	case f.Status == shoot.Refused:
		return f.Reason.Text
	case f.Animal == nil:
		return "no animal"
	}
	var all []string
	lead := fmt.Sprintf("lead %.1f mm", f.Lead*1e3)
	if f.AtLeast {
		lead = fmt.Sprintf("lead %.1f mm or more", f.Lead*1e3)
	}
	all = append(all, lead)
	if f.Whole() {
		all = append(all, "whole")
	} else {
		all = append(all, "cut: "+strings.Join(f.Animal.Touches, ", "))
	}
	switch {
	case !f.Measured:
		all = append(all, "sharpness not told")
	case f.Sharp:
		all = append(all, "sharp")
	default:
		all = append(all, "not sharp: "+f.Cause)
	}
	all = append(all, map[bool]string{true: "in reach", false: "outside the reach"}[f.InReach])
	if f.Reason.Code != "" {
		all = append(all, f.Reason.Code)
	}
	return strings.Join(all, " · ")
}
