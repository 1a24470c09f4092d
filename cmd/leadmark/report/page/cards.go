package page

import (
	"fmt"

	"leadmark/calib"
	"leadmark/cmd/leadmark/report/annotate"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/cmd/leadmark/report/summary"
	"leadmark/vision/ruler"
)

// Picture is what the page shows of one frame.
type Picture struct {
	File  string          // of the annotated frame, relative to the page; "" where there is none
	Thumb *annotate.Thumb // nil where there is none
	Why   string          // why there is no picture
}

type cardView struct {
	ID, Name, Href, Status, Value, Note, Alt string
	Outlier                                  bool
	Thumb                                    *annotate.Thumb
	Missing                                  string
}

// cardViews are the cards of the frames from one up to, not with, another.
func cardViews(r calib.Result, pictures []Picture, from, to int) []cardView {
	var out []cardView
	for i := from; i < to; i++ {
		f := r.Frames[i]
		v := cardView{ID: frameID(i), Name: f.Name, Href: pictures[i].File, Status: statusWord(f),
			Outlier: f.Fit.Outlier,
			Thumb:   pictures[i].Thumb, Missing: pictures[i].Why, Alt: cardAlt(f, annotate.TripOf(r).Name)}
		v.Value, v.Note = summary.CardWords(f)
		out = append(out, v)
	}
	return out
}

func cardAlt(f calib.FrameResult, line string) string {
	if f.Status != ruler.StatusRead {
		return "The whole frame " + f.Name + ", which was not read."
	}
	return fmt.Sprintf("The ruler in %s with %s, its front end and the %s marked.", f.Name,
		phrase.Count(f.Reading.Graduations.Len(), "graduation"), line)
}

func statusWord(f calib.FrameResult) string {
	switch f.Status {
	case ruler.StatusRead:
		return "read"
	case ruler.StatusRefused:
		return "refused"
	}
	return "left out"
}

// upright tells whether most rulers stand upright in their pictures.
func upright(r calib.Result) bool {
	n := 0
	for _, f := range r.Frames {
		if f.Status == ruler.StatusRead {
			if annotate.Upright(f) {
				n++
			} else {
				n--
			}
		}
	}
	return n > 0
}

func pictureNote(pictures []Picture) (note string, any bool) {
	for _, p := range pictures {
		if p.File != "" {
			return "", true
		}
	}
	return "The report was made without pictures of the frames.", false
}
