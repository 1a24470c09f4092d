package desk

import (
	"net/http"
	"strconv"
	"strings"

	"leadmark/calib"
	"leadmark/cmd/leadmark/desk/live"
	"leadmark/cmd/leadmark/desk/reply"
	"leadmark/cmd/leadmark/report/annotate"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// marksView is all that is drawn over a frame that is looked at large.
type marksView struct {
	live.FrameView
	Rev      int              `json:"rev"`
	Lines    []graduationView `json:"lines"`             // every graduation
	Outline  [][2]float64     `json:"outline,omitempty"` // of the ruler found
	AxisX    float64          `json:"axis_x"`            // unit vector of the ruler's axis
	AxisY    float64          `json:"axis_y"`
	FrontAt  *[2]float64      `json:"front_at,omitempty"` // where the front end meets the long axis
	PxPerMM  float64          `json:"px_per_mm,omitempty"`
	HandAt   *[2]float64      `json:"hand_at,omitempty"` // where a person placed it
	RulerBy  *live.Stroke     `json:"ruler_by,omitempty"`
	LeftOut  string           `json:"left_out,omitempty"`
	Settings string           `json:"settings,omitempty"`
}

type graduationView struct {
	MM    float64     `json:"mm"`
	At    live.Stroke `json:"at"`
	Whole bool        `json:"whole"`
}

// marks answers with what was found in a frame.
func (s *Server) marks(w http.ResponseWriter, r *http.Request) error {
	run, f, err := s.frameOf(r)
	if err != nil {
		return err
	}
	v := marksView{FrameView: live.ViewFrame(f), Lines: []graduationView{}, Settings: settingsOf(f.Frame)}
	put, rev := run.Corrected(f.Name)
	v.Rev = rev
	v.LeftOut = put.LeftOut
	if p := put.Front; p != nil {
		v.HandAt = &[2]float64{p.X, p.Y}
	}
	if l := put.Ruler; l != nil {
		m := live.StrokeOf(l.A, l.B)
		v.RulerBy = &m
	}
	if f.Reading.Status == ruler.StatusRead {
		v.found(f)
	}
	reply.JSON(w, http.StatusOK, v)
	return nil
}

func (v *marksView) found(f calib.FrameResult) {
	for _, t := range annotate.MarksOf(f, 14, 0).Graduations {
		v.Lines = append(v.Lines, graduationView{live.Tenth(t.Reading * 1e3), live.StrokeOf(t.A, t.B), t.Whole})
	}
	for _, p := range f.Reading.Outline {
		v.Outline = append(v.Outline, [2]float64{live.Tenth(p.X), live.Tenth(p.Y)})
	}
	d := f.Reading.Scale.Dir
	v.AxisX, v.AxisY = d.X, d.Y
	if e := f.Reading.Front; e != nil {
		v.FrontAt = &[2]float64{live.Tenth(e.At.X), live.Tenth(e.At.Y)}
	}
	v.PxPerMM = f.Reading.PxPerM * 1e-3
}

// settingsOf is how a frame was taken, in one line.
func settingsOf(f frame.Frame) string {
	var parts []string
	if f.Make+f.Model != "" {
		parts = append(parts, strings.TrimSpace(f.Make+" "+f.Model))
	}
	number := func(format string, x float64) {
		if x > 0 {
			parts = append(parts, strings.Replace(format, "#", strconv.FormatFloat(x, 'g', 4, 64), 1))
		}
	}
	number("# s", f.Exposure)
	number("f/#", f.FNumber)
	number("ISO #", float64(f.ISO))
	number("# mm", f.Focal*1e3)
	return strings.Join(parts, ", ")
}
