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
	Front, Second *Mark // the front end, and as the second of two flashes shows it
	Graduations   []Mark
}

// MarksOf collects what was found in a frame. Graduations are unit px long; where they would lie
// closer than gap px only those of halves, then of whole centimetres or inches are there.
func MarksOf(f calib.FrameResult, unit, gap float64) Marks {
	m := marksOn(f, Trip{}, unit, gap)
	one := func(s *segment) *Mark {
		if s == nil {
			return nil
		}
		return &Mark{A: s.A, B: s.B}
	}
	out := Marks{Front: one(m.Front), Second: one(m.Second)}
	for _, t := range m.Graduations {
		out.Graduations = append(out.Graduations, Mark{t.A, t.B, t.Reading, t.Rank == 2})
	}
	return out
}
