package annotate

import (
	"leadmark/calib"
	"leadmark/vision/ruler"
)

// Mark is a stroke on a picture, in pixels of the frame as displayed.
type Mark struct {
	A, B    ruler.Point
	Reading float64 // m, of a graduation
	Whole   bool    // of a graduation: a whole centimetre or inch
}

// Marks are what is drawn on a picture of a frame.
type Marks struct {
	Front, Twin *Mark
	Ticks       []Mark
}

// MarksOf collects what was found in a frame. Ticks are unit px long; where they would lie closer
// than gap px only those of halves, then of whole centimetres or inches are there.
func MarksOf(f calib.FrameResult, unit, gap float64) Marks {
	m := marksOn(f, Trip{}, unit, gap)
	one := func(s *segment) *Mark {
		if s == nil {
			return nil
		}
		return &Mark{A: s.A, B: s.B}
	}
	out := Marks{Front: one(m.Front), Twin: one(m.Twin)}
	for _, t := range m.Ticks {
		out.Ticks = append(out.Ticks, Mark{t.A, t.B, t.Reading, t.Rank == 2})
	}
	return out
}
