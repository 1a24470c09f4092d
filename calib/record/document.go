package record

import "leadmark/calib/provenance"

// Schema names the format of result.json.
const Schema = "leadmark/result/1"

// Document is result.json: a Result in the units of the file format, rounded to what the
// uncertainties support. What the run could not tell is nil or empty, and absent from the file.
type Document struct {
	Answer
	provenance.Made
	Frames []FrameEntry `json:"frames"`
	Remarks
}

// Answer is what a run could tell.
type Answer struct {
	Schema     string         `json:"schema"`
	Rig        string         `json:"rig"`
	Determined []string       `json:"determined"`
	Lag        *LagEntry      `json:"lag,omitempty"`
	Spread     *SpreadEntry   `json:"spread,omitempty"`
	NextShot   *NextEntry     `json:"next_shot,omitempty"`
	TripOffset *OffsetEntry   `json:"trip_offset,omitempty"`
	TripLinePX [][2]float64   `json:"trip_line_px,omitempty"`
	Speeds     []SpeedEntry   `json:"speeds,omitempty"`
	Advance    []AdvanceEntry `json:"advance,omitempty"`
	Budget     []BudgetEntry  `json:"budget,omitempty"`
	Checks     []CheckEntry   `json:"checks,omitempty"`
	Odd        *OddEntry      `json:"odd,omitempty"`
	ByHand     *ByHandEntry   `json:"by_hand,omitempty"`
}

// Remarks are the doubts about a run and what to shoot next.
type Remarks struct {
	Warnings []WarningEntry `json:"warnings"`
	Advice   []AdviceEntry  `json:"advice"`
	Plan     *PlanEntry     `json:"plan,omitempty"`
}

// NextEntry is where the next shot's lag will fall, in milliseconds.
type NextEntry struct {
	Interval95 [2]float64 `json:"interval95_ms"`
}

// OffsetEntry is the true trip place minus the line the advances are counted from.
type OffsetEntry struct {
	ValueMM float64 `json:"value_mm"`
	UMM     float64 `json:"u_mm"`
}

// SpeedEntry is a speed that was estimated.
type SpeedEntry struct {
	Group    string  `json:"group"`
	ValueMPS float64 `json:"value_mps"`
	UMPS     float64 `json:"u_mps"`
}

// AdvanceEntry sums up the shots of equal conditions; those that were stated are there.
type AdvanceEntry struct {
	DropMM      *float64    `json:"drop_mm,omitempty"`
	SpeedMPS    *float64    `json:"speed_mps,omitempty"`
	Group       string      `json:"group,omitempty"`
	DelayMS     float64     `json:"delay_ms"`
	N           int         `json:"n"`
	MeanMM      float64     `json:"mean_mm"`
	SDMM        *float64    `json:"sd_mm,omitempty"`
	Tolerance95 *[2]float64 `json:"tolerance95_95_mm,omitempty"`
}

// FrameEntry is what became of one frame.
type FrameEntry struct {
	File       string      `json:"file"`
	Status     string      `json:"status"`
	Reason     string      `json:"reason"`
	AdvanceMM  *float64    `json:"advance_mm,omitempty"`
	UMM        *float64    `json:"u_mm,omitempty"`
	FrontPX    *[2]float64 `json:"front_px,omitempty"`
	PxPerMM    *float64    `json:"px_per_mm,omitempty"`
	ResidualMM *float64    `json:"residual_mm,omitempty"`
	SpeedMPS   *float64    `json:"speed_mps,omitempty"`   // at the trip point, measured by a twin flash
	USpeedMPS  *float64    `json:"u_speed_mps,omitempty"` // its standard uncertainty
	Outlier    bool        `json:"outlier"`
	Corrected  []string    `json:"corrected,omitempty"` // by a person: front, ruler, left_out
	Taken      string      `json:"taken,omitempty"`
	ExposureS  float64     `json:"exposure_s,omitempty"`
	FNumber    float64     `json:"f_number,omitempty"`
	ISO        int         `json:"iso,omitempty"`
	FocalMM    float64     `json:"focal_mm,omitempty"`
	WidthPX    int         `json:"width_px,omitempty"` // of the picture as it is seen, and absent with readings by hand
	HeightPX   int         `json:"height_px,omitempty"`
}

// WarningEntry is a doubt and its remedy.
type WarningEntry struct {
	Code   string   `json:"code"`
	Text   string   `json:"text"`
	Frames []string `json:"frames,omitempty"`
}

// AdviceEntry is a next thing to shoot.
type AdviceEntry struct {
	Text      string   `json:"text"`
	DropMM    *float64 `json:"drop_mm,omitempty"`
	DelayMS   float64  `json:"delay_ms"`
	Shots     int      `json:"shots"`
	ULagAfter *float64 `json:"u_lag_after_ms,omitempty"`
}
