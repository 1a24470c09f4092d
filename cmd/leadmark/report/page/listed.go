package page

import (
	"fmt"

	"leadmark/calib"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/vision/ruler"
)

// What the page of a run lists one by one, so that it does not grow with the run: readings.csv and
// result.json have all. Chosen by eye.
const (
	wholeTable  = 300 // frames: the table of a run of no more lists all
	firstRows   = 100 // of a longer one the first
	mostOthers  = 300 // and of the others, those that are odd, were not read or have a remark
	mostNames   = 100 // frames named beside a doubt, or as odd
	mostEntries = 100 // conditions
)

// listed are the frames that the table lists, in their order.
func listed(r calib.Result) (out []int) {
	others := 0
	for i, f := range r.Frames {
		switch {
		case len(r.Frames) <= wholeTable || i < firstRows:
			out = append(out, i)
		case stands(f) && others < mostOthers:
			others++
			out = append(out, i)
		}
	}
	return out
}

// stands says whether there is more to say of a frame than its numbers.
func stands(f calib.FrameResult) bool {
	return f.Status != ruler.StatusRead || f.Fit.Outlier || reasonText(f) != ""
}

// unlisted says which frames the table does not list, and where they stand; "" where it lists all.
func unlisted(r calib.Result, rows int) string {
	n := len(r.Frames)
	if rows == n {
		return ""
	}
	others := 0
	for _, f := range r.Frames[firstRows:] {
		if stands(f) {
			others++
		}
	}
	which := "all others that are odd, were not read or have a remark"
	if others > mostOthers {
		which = fmt.Sprintf("the first %d of %d others that are odd, were not read or have a remark", mostOthers, others)
	}
	return fmt.Sprintf("Listed are %s of %d: the first %d, and %s. Every frame is in readings.csv beside this page.",
		phrase.Count(rows, "frame"), n, firstRows, which)
}

// links lead from the page itself to frames.
type links struct {
	frames   int
	pictures bool
	row      map[int]bool // frames that the table lists
}

func linksOf(r calib.Result, pictures bool) links {
	l := links{len(r.Frames), pictures, map[int]bool{}}
	for _, i := range listed(r) {
		l.row[i] = true
	}
	return l
}

// to leads to a frame's card, or to its row where it has no card; "" where it has neither.
func (l links) to(i int) string {
	switch {
	case CardPages(l.frames, l.pictures) > 0:
		return CardsFile(i/MostCards) + "#" + frameID(i)
	case l.frames <= MostCards || l.row[i]:
		return "#" + frameID(i)
	}
	return ""
}
