package desk

import (
	"cmp"
	"math"
	"net/http"
	"strings"

	"leadmark/calib/runfile"
	"leadmark/cmd/leadmark/desk/live"
	"leadmark/cmd/leadmark/desk/reply"
	"leadmark/vision/ruler"
)

// correction is what a page asks to be put right: of one frame, or the run's trip line.
type correction struct {
	File     string       `json:"file"`
	FrontPX  *[2]float64  `json:"front_px"`  // where the front end is
	RulerPX  *live.Stroke `json:"ruler_px"`  // along the graduations
	LeaveOut *string      `json:"leave_out"` // why
	TripPX   *live.Stroke `json:"trip_px"`
	TripUMM  float64      `json:"trip_u_mm"`
	Forget   string       `json:"forget"` // what is to be as the program found it: front, ruler, left_out or trip
}

// check says what is wrong with a correction; places must lie in the picture or close to it.
func (c correction) check(width, height int) error {
	var points []float64
	switch {
	case c.FrontPX != nil:
		points = append(points, c.FrontPX[:]...)
	case c.RulerPX != nil:
		points = append(points, c.RulerPX[:]...)
		if math.Hypot(c.RulerPX[2]-c.RulerPX[0], c.RulerPX[3]-c.RulerPX[1]) < 20 {
			return reply.Refused(http.StatusUnprocessableEntity, "the line along the ruler is too short",
				"draw it from one end of the graduations you see to the other")
		}
	case c.TripPX != nil:
		if !(c.TripUMM > 0 && c.TripUMM <= 1000) {
			return reply.Refused(http.StatusUnprocessableEntity, "how sure the trip line is must be above 0 mm",
				"half of how far it may be off will do")
		}
		if math.Hypot(c.TripPX[2]-c.TripPX[0], c.TripPX[3]-c.TripPX[1]) < 1 {
			return reply.Refused(http.StatusUnprocessableEntity, "the trip line is only a point",
				"draw it across the track")
		}
	case c.LeaveOut != nil:
		if len(*c.LeaveOut) > 300 {
			return reply.Refused(http.StatusUnprocessableEntity, "the reason is too long", "say it in a few words")
		}
	case c.Forget == "":
		return reply.Refused(http.StatusBadRequest, "nothing is to be changed", "load the page again")
	}
	if c.File == "" && c.TripPX == nil && c.Forget != "trip" {
		return reply.Refused(http.StatusBadRequest, "no frame is named", "load the page again")
	}
	for i, v := range points {
		most := float64([2]int{width, height}[i%2])
		if math.IsNaN(v) || v < -0.2*most || v > 1.2*most {
			return reply.Refused(http.StatusUnprocessableEntity, "that place is outside the picture",
				"place it on the picture")
		}
	}
	return nil
}

// apply puts it right among what was put right before.
func (c correction) apply(old runfile.Corrections) runfile.Corrections {
	f := old.Of(c.File)
	if f.FrontU == 0 {
		f.FrontU = runfile.HandU
	}
	switch {
	case c.FrontPX != nil:
		f.Front = &ruler.Point{X: live.Tenth(c.FrontPX[0]), Y: live.Tenth(c.FrontPX[1])}
	case c.RulerPX != nil:
		f.Ruler = lineOf(*c.RulerPX)
	case c.LeaveOut != nil:
		f.LeftOut = cmp.Or(strings.Join(strings.Fields(*c.LeaveOut), " "), "no reason given")
	case c.TripPX != nil:
		old.Trip = &runfile.TripCorrection{Line: *lineOf(*c.TripPX), U: c.TripUMM * 1e-3}
	case c.Forget == "trip":
		old.Trip = nil
	case c.Forget == runfile.CorrectedFront:
		f.Front = nil
	case c.Forget == runfile.CorrectedRuler:
		f.Ruler = nil
	case c.Forget == runfile.CorrectedLeftOut:
		f.LeftOut = ""
	}
	if c.File == "" {
		return old
	}
	return old.With(f)
}

func lineOf(s live.Stroke) *ruler.Line {
	at := func(x, y float64) ruler.Point { return ruler.Point{X: live.Tenth(x), Y: live.Tenth(y)} }
	return &ruler.Line{A: at(s[0], s[1]), B: at(s[2], s[3])}
}

// says is the change in words, as the button that takes it back names it.
func (c correction) says() string {
	switch {
	case c.FrontPX != nil:
		return "front end of " + c.File + " placed"
	case c.RulerPX != nil:
		return "ruler in " + c.File + " marked"
	case c.LeaveOut != nil:
		return c.File + " left out"
	case c.TripPX != nil:
		return "trip line placed"
	case c.Forget == "trip":
		return "own trip line dropped"
	}
	return "correction of " + c.File + " dropped"
}
