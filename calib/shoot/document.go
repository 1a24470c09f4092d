package shoot

import (
	"encoding/json"
	"math"

	"leadmark/calib/plan"
	"leadmark/calib/provenance"
	"leadmark/calib/record"
	"leadmark/calib/words"
	"leadmark/fit/unit"
	"leadmark/vision/animal"
)

// Schema names the format of shoot.json.
const Schema = "leadmark/shoot/1"

// Document is shoot.json: a Result in the units of the file formats. What could not be told is
// absent.
type Document struct {
	Schema string `json:"schema"`
	provenance.Made
	Frames    []FrameEntry        `json:"frames"`
	Subject   *SubjectEntry       `json:"subject,omitempty"`
	Agreement *AgreementEntry     `json:"agreement,omitempty"`
	Warnings  []plan.WarningEntry `json:"warnings"`
	Advice    []string            `json:"advice"`
}

// FrameEntry is what became of one frame.
type FrameEntry struct {
	File    string         `json:"file"`
	Status  Status         `json:"status"`
	Whole   *bool          `json:"whole,omitempty"`
	Touches []string       `json:"touches,omitempty"`
	Animals int            `json:"animals,omitempty"`
	BoxPX   *[2][2]float64 `json:"box_px,omitempty"`
	NosePX  *[2]float64    `json:"nose_px,omitempty"`
	LeadMM  *float64       `json:"lead_mm,omitempty"`
	// the nose is past the picture's edge
	AtLeast    bool     `json:"lead_at_least,omitempty"`
	HeightMM   *float64 `json:"height_mm,omitempty"`
	InReach    *bool    `json:"in_reach,omitempty"`
	EdgeWidth  *float64 `json:"edge_width_px,omitempty"` // 10 to 90 %
	MotionBlur *float64 `json:"motion_blur_px,omitempty"`
	Sharp      *bool    `json:"sharp,omitempty"`
	Cause      string   `json:"cause,omitempty"`
	Clipped    *float64 `json:"clipped_fraction,omitempty"`
	Clean      *bool    `json:"backdrop_clean,omitempty"`
	Rating     int      `json:"rating"`
	Reason     string   `json:"reason"`
}

// SubjectEntry is what was learned; the speeds are absent where nothing was.
type SubjectEntry struct {
	N              int         `json:"n"`
	Censored       int         `json:"censored"`
	SpeedMPS       *float64    `json:"speed_mps,omitempty"`
	SpeedInterval  *[2]float64 `json:"speed_interval95_mps,omitempty"`
	SpeedSDMPS     *float64    `json:"speed_sd_mps,omitempty"`
	ElevationDeg   *float64    `json:"elevation_deg,omitempty"`
	ElevationUDeg  *float64    `json:"u_elevation_deg,omitempty"`
	ElevationSDDeg *float64    `json:"elevation_sd_deg,omitempty"`

	ElevationInterval *[2]float64 `json:"elevation_interval95_deg,omitempty"`
	NotLearned        string      `json:"not_learned,omitempty"`
}

// AgreementEntry is the test of the plan's share.
type AgreementEntry struct {
	Expected   float64    `json:"expected_in_reach"`
	Observed   float64    `json:"observed"`
	Interval95 [2]float64 `json:"observed_interval95"`
	N          int        `json:"n"`
	P          float64    `json:"p_value"`
}

// Encode writes a result as shoot.json, indented; the same result gives the same bytes.
func Encode(r Result) ([]byte, error) {
	return record.JSON("the shoot", NewDocument(r))
}

// NewDocument turns a result into the units and the roundings of shoot.json.
func NewDocument(r Result) Document {
	d := Document{Schema: Schema, Made: r.Made(), Frames: []FrameEntry{},
		Warnings: plan.WarningEntries(r.Warnings), Advice: words.Sentences(r.Advice)}
	for _, f := range r.Frames {
		d.Frames = append(d.Frames, frameEntry(f))
	}
	if a := r.Agreement; a != nil {
		d.Agreement = &AgreementEntry{unit.Significant(a.Expected, 4),
			unit.Significant(float64(a.Inside)/float64(a.N), 3), [2]float64{unit.Significant(a.Interval95[0], 3),
				unit.Significant(a.Interval95[1], 3)}, a.N, unit.Significant(a.P, 2)}
	}
	d.Subject = subjectEntry(r)
	return d
}

func subjectEntry(r Result) *SubjectEntry {
	if r.Learned == nil {
		return &SubjectEntry{NotLearned: r.NotLearned}
	}
	l := *r.Learned
	interval := [2]float64{unit.Significant(l.Speed95[0], 4), unit.Significant(l.Speed95[1], 4)}
	e := &SubjectEntry{N: l.N, Censored: l.Censored, SpeedMPS: number(l.Speed, 4),
		SpeedInterval: &interval, SpeedSDMPS: number(l.SpeedSD, 3)}
	if h := l.Heading; h != nil {
		const deg = 180 / math.Pi
		e.ElevationDeg, e.ElevationUDeg, e.ElevationSDDeg = number(h.Elevation*deg, 3),
			number(h.Known.U*deg, 2), number(h.SD*deg, 2)
		e.ElevationInterval = &[2]float64{unit.Significant(h.Elevation95[0]*deg, 3),
			unit.Significant(h.Elevation95[1]*deg, 3)}
	}
	return e
}

func frameEntry(f FrameResult) FrameEntry {
	e := FrameEntry{File: f.Name, Status: f.Status, Rating: f.Rating, Cause: f.Cause}
	e.Reason = words.Reason(f.Reason)
	a := f.Animal
	if a == nil {
		return e
	}
	tenth := func(p animal.Point) [2]float64 {
		return [2]float64{math.Round(p.X*10) / 10,
			math.Round(p.Y*10) / 10}
	}
	whole, nose := f.Whole(), tenth(a.Nose)
	e.Whole, e.Touches, e.Animals, e.NosePX = &whole, a.Touches, f.Animals, &nose
	e.BoxPX = &[2][2]float64{tenth(a.Box[0]), tenth(a.Box[1])}
	e.LeadMM, e.AtLeast, e.InReach, e.Clean = number(f.Lead*1e3, 4), f.AtLeast, &f.InReach, &f.Clean
	e.Clipped = number(a.Clipped, 2)
	if f.Height != nil {
		e.HeightMM = number(*f.Height*1e3, 3)
	}
	if f.Measured {
		e.EdgeWidth, e.MotionBlur, e.Sharp = number(a.Edges.Width, 2), number(a.Edges.Motion, 2),
			&f.Sharp
	}
	return e
}

func number(x float64, n int) *float64 {
	y := unit.Significant(x, n)
	return &y
}

// IsDocument says whether a text is a shoot.json.
func IsDocument(text []byte) bool {
	var d struct {
		Schema string `json:"schema"`
	}
	return json.Unmarshal(text, &d) == nil && d.Schema == Schema
}
