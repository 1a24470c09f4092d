package runs

import (
	"leadmark/vision/ruler"
	"leadmark/vision/synth/photo"
)

// RunTruth is the content of truth.json.
type RunTruth struct {
	Name       string  `json:"name"`
	LagMS      float64 `json:"lag_ms"`
	SpreadMS   float64 `json:"spread_ms"`
	TripOffset float64 `json:"trip_offset_mm"` // true trip point minus the line the advances are counted from
	// AdvanceFrom says what advance_mm is counted from: "stated-line", or "true-trip-point" where
	// run.toml states none.
	AdvanceFrom  string         `json:"advance_from"`
	TripLinePX   [2][2]float64  `json:"trip_line_px"` // the true trip place, at the ruler's nominal depth
	StatedPX     *[2][2]float64 `json:"stated_line_px,omitempty"`
	GraduationMM float64        `json:"graduation_mm"`
	FrontMM      float64        `json:"front_mm"`
	Frames       []FrameTruth   `json:"frames"`
}

// FrameTruth is the truth of one frame.
type FrameTruth struct {
	File     string `json:"file"`
	Readable bool   `json:"readable"`
	Why      string `json:"why"`           // why it is not readable
	Odd      string `json:"odd,omitempty"` // what went wrong with the shot, readable or not; "still" for the still
	// AdvanceMM is the front end's true place in space along the travel; AtLineMM what a faultless
	// reader of the picture has for it at the stated (or true) line, parallax included.
	AdvanceMM float64           `json:"advance_mm"`
	AtLineMM  float64           `json:"at_line_mm"`
	FrontPX   [2]float64        `json:"front_px"`
	SecondPX  *[2]float64       `json:"second_front_px,omitempty"` // at the second flash of a twin
	PxPerMM   float64           `json:"px_per_mm"`
	BlurPX    float64           `json:"blur_px"`   // standard deviation of all blur along the travel
	TauMS     float64           `json:"tau_ms"`    // from the trip to the effective instant of the flash
	SpeedMPS  float64           `json:"speed_mps"` // at the trip point
	Marks     []GraduationTruth `json:"graduations"`
}

// GraduationTruth is one graduation to be seen.
type GraduationTruth struct {
	ReadingMM float64    `json:"reading_mm"`
	PX        [2]float64 `json:"px"`
}

func pair(p ruler.Point) [2]float64 { return [2]float64{p.X, p.Y} }

func pairs(l ruler.Line) [2][2]float64 { return [2][2]float64{pair(l.A), pair(l.B)} }

// TruthOf puts the truth of a picture that belongs to no run into the form of truth.json.
func TruthOf(file string, t photo.Truth) FrameTruth { return truthOf(file, &shot{}, t, 0, false) }

// truthOf puts a frame's truth into the form of truth.json; offset is the advance of the true trip
// point from the line advances are counted from, m.
func truthOf(file string, sh *shot, t photo.Truth, offset float64, twin bool) FrameTruth {
	f := FrameTruth{File: file, Readable: t.Readable, Why: t.Why, Odd: sh.odd, AdvanceMM: t.AdvanceMM + offset/mm,
		AtLineMM: t.AtLineMM, FrontPX: pair(t.FrontPX), PxPerMM: t.PxPerMM, BlurPX: t.BlurPX,
		TauMS: sh.tau * 1e3, SpeedMPS: sh.trueSpeed, Marks: []GraduationTruth{}}
	if twin {
		p := pair(t.SecondPX)
		f.SecondPX = &p
	}
	for _, g := range t.Graduations {
		f.Marks = append(f.Marks, GraduationTruth{g.ReadingMM, pair(g.PX)})
	}
	return f
}
