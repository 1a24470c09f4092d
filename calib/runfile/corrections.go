package runfile

import (
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"unicode"

	"leadmark/calib/input"
	"leadmark/calib/store"
	"leadmark/fit/unit"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// CorrectionsFileName is the file of a run in which a person's corrections are kept.
const CorrectionsFileName = "corrections.toml"

// CorrectionsSchema names the format of corrections.toml.
const CorrectionsSchema = "leadmark/corrections/1"

// HandU is the standard uncertainty, px, of a front end marked by hand where none is stated: about
// one pixel, as a person reaches on a picture enlarged to single pixels (common practice, no
// source).
const HandU = 1.0

// What a person may change of a frame, as FrameResult.Corrected and result.json name it.
const (
	CorrectedFront   = "front"    // the front end was placed by hand
	CorrectedRuler   = "ruler"    // the ruler was looked for where a person marked it
	CorrectedLeftOut = "left_out" // the frame was left out, with a reason
)

// Corrections are what a person put right in a run. They are kept beside the pictures and never in
// them.
type Corrections struct {
	Frames []Correction // each frame once, in the order of frame.CompareNames
	Trip   *TripCorrection
}

// Correction is what a person put right in one frame. Places are in pixels of the picture as
// displayed.
type Correction struct {
	Frame   string
	LeftOut string       // why it is left out; "" where it is not
	Front   *ruler.Point // where the front end meets the ruler's long axis
	FrontU  float64      // px, its standard uncertainty
	Ruler   *ruler.Line  // roughly along the graduations, from one end of what is seen to the other
}

// TripCorrection is a trip line placed by hand, for the run as a whole.
type TripCorrection struct {
	Line ruler.Line
	U    float64 // m, standard uncertainty along the track
}

// Empty reports whether nothing was put right.
func (c Corrections) Empty() bool { return len(c.Frames) == 0 && c.Trip == nil }

// Of returns what was put right in a frame; the zero Correction with its name where nothing was.
func (c Corrections) Of(name string) Correction {
	i, found := slices.BinarySearchFunc(c.Frames, name,
		func(f Correction, name string) int { return frame.CompareNames(f.Frame, name) })
	if !found {
		return Correction{Frame: name}
	}
	return c.Frames[i]
}

// With returns the corrections with those of one frame in the place of what it had; c keeps its
// own.
func (c Corrections) With(f Correction) Corrections {
	out := Corrections{Trip: c.Trip}
	for _, g := range c.Frames {
		if g.Frame != f.Frame {
			out.Frames = append(out.Frames, g)
		}
	}
	if len(f.Kinds()) > 0 {
		out.Frames = append(out.Frames, f)
	}
	out.sort()
	return out
}

func (c Corrections) sort() {
	slices.SortFunc(c.Frames, func(a, b Correction) int { return frame.CompareNames(a.Frame, b.Frame) })
}

// Kinds names what was put right.
func (c Correction) Kinds() []string {
	var out []string
	if c.Front != nil {
		out = append(out, CorrectedFront)
	}
	if c.Ruler != nil {
		out = append(out, CorrectedRuler)
	}
	if c.LeftOut != "" {
		out = append(out, CorrectedLeftOut)
	}
	return out
}

// correctionsFile mirrors corrections.toml.
type correctionsFile struct {
	Schema string             `toml:"schema" help:"the format, leadmark/corrections/1"`
	Frame  []correctionFile   `toml:"frame" help:"what was put right in one frame"`
	Trip   *correctedTripFile `toml:"trip" help:"the trip line, placed by hand"`
}

type correctionFile struct {
	File     string      `toml:"file" help:"the frame's file name"`
	LeaveOut *string     `toml:"leave_out" help:"why it is left out"`
	FrontPX  []float64   `toml:"front_px" help:"where the front end meets the ruler's long axis, [x, y]"`
	UFrontPX *float64    `toml:"u_front_px" help:"its standard uncertainty, px; 1 where left out"`
	RulerPX  [][]float64 `toml:"ruler_px" help:"two places along the graduations, [[x, y], [x, y]], between which to look for the ruler"`
}

type correctedTripFile struct {
	LinePX [][]float64 `toml:"line_px" help:"line across the track, [[x, y], [x, y]]"`
	UMM    *float64    `toml:"u_mm" help:"standard uncertainty of that place along the track, mm"`
}

// LoadCorrections reads what was put right in the run of a folder; nothing where there is no such
// file. A broken file is an *input.Error, or several joined: what a person put right is not passed
// over in silence.
func LoadCorrections(dir string) (Corrections, error) {
	c, _, err := loadCorrections(dir)
	return c, err
}

func loadCorrections(dir string) (Corrections, []byte, error) {
	path := filepath.Join(dir, CorrectionsFileName)
	text, err := readOptional(path, maxRunFile)
	if err != nil || text == nil {
		return Corrections{}, nil, err
	}
	c, err := ParseCorrections(path, text)
	var e *input.Error
	if errors.As(err, &e) && e.Hint == "" {
		e.Hint = "mend it, or move " + CorrectionsFileName + " away to do without it"
	}
	return c, text, err
}

// ParseCorrections reads the text of corrections.toml. The name is the one that errors give the
// file.
func ParseCorrections(name string, text []byte) (Corrections, error) {
	if err := store.CheckSchema(input.SchemaOf(text), CorrectionsSchema); errors.Is(err, store.ErrLater) {
		return Corrections{}, &input.Error{File: name, What: "cannot be used", Err: err,
			Hint: "install the version that wrote it"}
	}
	var file correctionsFile
	toml, err := input.DecodeStrict(name, text, &file)
	if err != nil {
		return Corrections{}, err
	}
	s := &source{input.Source{File: toml}}
	if file.Schema != CorrectionsSchema {
		s.Fault("schema", fmt.Sprintf("is %q", file.Schema),
			fmt.Sprintf("this program reads schema = %q", CorrectionsSchema))
	}
	var c Corrections
	seen := map[string]bool{}
	for k, f := range file.Frame {
		at := fmt.Sprintf("frame[%d]", k)
		if seen[f.File] {
			s.Fault(at+".file", f.File+" is named twice", "keep one of the two")
		}
		seen[f.File] = true
		if put := s.correction(at, f); len(put.Kinds()) > 0 {
			c.Frames = append(c.Frames, put)
		}
	}
	c.sort()
	if file.Trip != nil {
		c.Trip = s.correctedTrip(*file.Trip)
	}
	return c, s.Wrong.Err(name)
}

func (s *source) correction(at string, f correctionFile) Correction {
	c := Correction{Frame: f.File, FrontU: HandU}
	s.frameName(at+".file", f.File)
	if f.LeaveOut != nil {
		if c.LeftOut = oneLine(*f.LeaveOut); c.LeftOut == "" {
			s.Fault(at+".leave_out", "is empty", "say why the frame is left out")
		}
	}
	if f.FrontPX != nil {
		if p, ok := point(f.FrontPX); ok {
			c.Front = &p
		} else {
			s.Fault(at+".front_px", "is not a place in a picture", "give [x, y] in pixels of the picture as displayed")
		}
	}
	if f.UFrontPX != nil {
		c.FrontU = s.Number(at+".u_front_px", f.UFrontPX, input.Between(0.01, 1000))
	}
	if f.RulerPX != nil {
		c.Ruler = s.line(at+".ruler_px", f.RulerPX)
	}
	if len(c.Kinds()) == 0 && len(f.FrontPX)+len(f.RulerPX) == 0 && f.LeaveOut == nil {
		s.Fault(at+".file", "has nothing beside it that was put right",
			"add leave_out, front_px or ruler_px, or take the entry out")
	}
	return c
}

func (s *source) correctedTrip(f correctedTripFile) *TripCorrection {
	line := s.line("trip.line_px", f.LinePX)
	if f.UMM == nil {
		s.Fault("trip", "has no u_mm", "state the standard uncertainty of the line along the track in "+
			"millimetres, such as u_mm = 0.5")
	}
	u := s.Number("trip.u_mm", f.UMM, input.Above(0, 1000)) * 1e-3
	if line == nil {
		return nil
	}
	return &TripCorrection{Line: *line, U: u}
}

// point reads a place of two finite numbers that can lie in or near a picture.
func point(xy []float64) (ruler.Point, bool) {
	if len(xy) != 2 || !(math.Abs(xy[0]) <= 1e6) || !(math.Abs(xy[1]) <= 1e6) {
		return ruler.Point{}, false
	}
	return ruler.Point{X: xy[0], Y: xy[1]}, true
}

// Text writes corrections as corrections.toml, which reads back as the same; nil for none.
func (c Corrections) Text() []byte {
	if c.Empty() {
		return nil
	}
	var b strings.Builder
	b.WriteString("# What a person put right in this run. The pictures are as they were; leadmark calibrate " +
		"follows this file.\n" +
		"# Places are pixels of the picture as displayed, (0, 0) the centre of the top-left one.\n")
	fmt.Fprintf(&b, "schema = %q\n", CorrectionsSchema)
	for _, f := range c.Frames {
		fmt.Fprintf(&b, "\n[[frame]]\nfile = %s\n", input.BasicString(f.Frame))
		if f.LeftOut != "" {
			fmt.Fprintf(&b, "leave_out = %s\n", input.BasicString(f.LeftOut))
		}
		if f.Front != nil {
			fmt.Fprintf(&b, "front_px = %s\nu_front_px = %s\n", pointText(*f.Front), unit.Decimal(f.FrontU))
		}
		if f.Ruler != nil {
			fmt.Fprintf(&b, "ruler_px = %s\n", lineText(*f.Ruler))
		}
	}
	if t := c.Trip; t != nil {
		fmt.Fprintf(&b, "\n[trip]\nline_px = %s\nu_mm = %s\n", lineText(t.Line), unit.Decimal(unit.Stated(t.U*1e3)))
	}
	return []byte(b.String())
}

func lineText(l ruler.Line) string { return "[" + pointText(l.A) + ", " + pointText(l.B) + "]" }

func pointText(p ruler.Point) string { return "[" + unit.Decimal(p.X) + ", " + unit.Decimal(p.Y) + "]" }

// Check says what is wrong with a correction that a person made, nil for nothing.
func (c Corrections) Check() error {
	for _, f := range c.Frames {
		if strings.ContainsFunc(f.LeftOut, unicode.IsControl) || len(f.LeftOut) > 1000 {
			return &input.Error{File: f.Frame, What: "the reason is not one line of at most 1000 letters",
				Hint: "say it in a few words"}
		}
	}
	if c.Empty() {
		return nil
	}
	_, err := ParseCorrections(CorrectionsFileName, c.Text())
	return err
}

// correct takes a person's corrections over; a trip line of theirs stands in the place of the
// stated one.
func (r *Run) correct(c Corrections) {
	r.Corrections = c
	if c.Trip == nil {
		return
	}
	line := c.Trip.Line
	trip := TripSpec{Line: &line, U: c.Trip.U}
	if r.Trip != nil {
		trip.Still = r.Trip.Still // still no shot
	}
	r.Trip = &trip
}
