package page

import (
	"cmp"
	"encoding/base64"
	"fmt"
	"html/template"
	"iter"
	"slices"
	"strconv"
	"strings"

	"leadmark/calib/plan"
	"leadmark/calib/shoot"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/report/summary"
	"leadmark/vision/animal"
)

// The files of a contact sheet, and what tells them from anyone else's.
const (
	contactFile = "contact.html"
	SheetFiles  = "contact-*.html" // of a long shoot, beside the first
	SheetSign   = "leadmark contact sheet"
)

// sheetView is one page of the contact sheet.
type sheetView struct {
	Sign   string
	Lines  []string
	Doubts []plan.WarningEntry
	Cards  []contactCard
	This   frameLink
	Pages  []frameLink // none where there is but one
	Made   string
}

// Sheets are the pages of the contact sheet by the names of their files, one after another.
func Sheets(r shoot.Result) iter.Seq2[string, Page] {
	return func(yield func(string, Page) bool) {
		frames := best(r.Frames)
		v := sheetView{Sign: SheetSign, Lines: summary.Shoot(r), Doubts: plan.WarningEntries(r.Warnings),
			Made: madeBy(r.Made())}
		links := sheetLinks(len(frames))
		if len(links) > 1 {
			v.Pages = links
		}
		for k, link := range links {
			v.This, v.Cards = link, nil
			for _, f := range frames[k*MostCards : min((k+1)*MostCards, len(frames))] {
				v.Cards = append(v.Cards, card(f))
			}
			if !yield(link.Href, Page{contactFile, v}) {
				return
			}
			v.Lines = nil // they stand on the first
		}
	}
}

// sheetLinks lead to the pages of the contact sheet of n frames.
func sheetLinks(n int) []frameLink {
	var links []frameLink
	for k := range max(1, CardPages(n, true)) {
		links = append(links, frameLink{pageLink(k, n).Name, sheetName(k)})
	}
	return links
}

// sheetName names page k of the contact sheet.
func sheetName(k int) string {
	if k == 0 {
		return contactFile
	}
	return strings.Replace(SheetFiles, "*", strconv.Itoa(k+1), 1)
}

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
		return words.Sentence(f.Reason)
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
