package live

import (
	"leadmark/calib"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/report/annotate"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/cmd/leadmark/report/summary"
	"leadmark/fit/unit"
	"leadmark/vision/ruler"
)

// Stroke is a stroke on a picture: x1, y1, x2, y2 in pixels of the frame as displayed.
type Stroke [4]float64

// StrokeOf is the stroke between two places.
func StrokeOf(a, b ruler.Point) Stroke {
	return Stroke{Tenth(a.X), Tenth(a.Y), Tenth(b.X), Tenth(b.Y)}
}

// Tenth rounds to a tenth of a pixel.
func Tenth(x float64) float64 {
	return unit.Fixed(x, 1)
}

// FrameView is a frame on a page.
type FrameView struct {
	File        string      `json:"file"`
	Status      string      `json:"status"`
	Code        string      `json:"code,omitempty"`   // why it was not read
	Reason      string      `json:"reason,omitempty"` // the same in words
	Todo        string      `json:"todo,omitempty"`   // what to change at the set
	Value       string      `json:"value,omitempty"`  // its advance
	Note        string      `json:"note,omitempty"`
	Condition   string      `json:"condition,omitempty"`
	Outlier     bool        `json:"outlier,omitempty"`
	Corrected   []string    `json:"corrected,omitempty"`
	Width       int         `json:"width"`
	Height      int         `json:"height"`
	Clip        *[5]float64 `json:"clip,omitempty"` // where the small picture lies: left, top, scale, width, height
	Front       *Stroke     `json:"front,omitempty"`
	DoubleFlash *Stroke     `json:"twin,omitempty"`
	Graduations []Stroke    `json:"ticks,omitempty"` // of whole centimetres or inches
	Taken       string      `json:"taken,omitempty"`
}

// ViewFrame is what a page shows of a frame.
func ViewFrame(f calib.FrameResult) FrameView {
	v := FrameView{File: f.Name, Status: string(f.Status), Outlier: f.Fit.Outlier, Corrected: f.Corrected,
		Width: f.Width, Height: f.Height}
	v.Value, v.Note = summary.FrameWords(f)
	if f.Status != ruler.StatusRead {
		v.Code, v.Reason, v.Todo, v.Note = f.Reason.Code, words.Sentence(f.Reason),
			summary.FrameRemedy(f.Reason.Code), ""
	} else {
		v.Condition = phrase.ConditionOf(f.Conditions).Name()
	}
	if !f.Taken.IsZero() {
		v.Taken = f.Taken.Format("15:04:05")
	}
	m := annotate.MarksOf(f, 26, 0)
	if m.Front != nil {
		s := StrokeOf(m.Front.A, m.Front.B)
		v.Front = &s
	}
	if m.Second != nil {
		s := StrokeOf(m.Second.A, m.Second.B)
		v.DoubleFlash = &s
	}
	for _, t := range m.Graduations {
		if t.Whole {
			v.Graduations = append(v.Graduations, StrokeOf(t.A, t.B))
		}
	}
	return v
}
