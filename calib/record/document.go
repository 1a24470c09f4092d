package record

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"time"

	"leadmark/calib"
	"leadmark/calib/store"
	"leadmark/fit"
	"leadmark/fit/unit"
	"leadmark/vision/ruler"
)

// Schema names the format of result.json.
const Schema = "leadmark/result/1"

// Document is result.json: a Result in the units of the file format, rounded to what the
// uncertainties support. What the run could not tell is nil or empty, and absent from the file.
type Document struct {
	Answer
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

// LagEntry is the lag in milliseconds.
type LagEntry struct {
	ValueMS    float64     `json:"value_ms"`
	UMS        float64     `json:"u_ms"`
	DF         float64     `json:"df,omitempty"` // effective degrees of freedom; absent in files older than this key
	Interval95 *[2]float64 `json:"interval95_ms,omitempty"`
}

// SpreadEntry is the shot-to-shot standard deviation of the lag in milliseconds.
type SpreadEntry struct {
	ValueMS    float64     `json:"value_ms"`
	DF         float64     `json:"df,omitempty"` // effective degrees of freedom; absent in files older than this key
	Interval95 *[2]float64 `json:"interval95_ms,omitempty"`
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

// Encode writes a result as result.json, indented, the same bytes for the same result.
func Encode(r calib.Result) ([]byte, error) { return NewDocument(r).Encode() }

// Encode writes the document as result.json.
func (d Document) Encode() ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(d); err != nil {
		return nil, fmt.Errorf("writing the result as JSON: %w", err)
	}
	return b.Bytes(), nil
}

// Decode reads a result.json back. It refuses text of another schema.
func Decode(text []byte) (Document, error) {
	var stated struct {
		Schema string `json:"schema"`
	}
	if err := json.Unmarshal(text, &stated); err != nil {
		return Document{}, fmt.Errorf("not a result of this program: %w", err)
	}
	if err := store.CheckSchema(stated.Schema, Schema); err != nil {
		return Document{}, fmt.Errorf("not a result that can be read: %w", err)
	}
	var d Document
	if err := json.Unmarshal(text, &d); err != nil {
		return Document{}, fmt.Errorf("not a result of this program: %w", err)
	}
	return d, nil
}

// NewDocument turns a result into the units and the roundings of result.json.
func NewDocument(r calib.Result) Document {
	d := Document{Answer: answerOf(r), Frames: []FrameEntry{}, Remarks: remarksOf(r)}
	for _, f := range r.Frames {
		d.Frames = append(d.Frames, frameEntry(f))
	}
	return d
}

func answerOf(r calib.Result) Answer {
	a := Answer{Schema: Schema, Rig: r.Rig, Determined: determined(r)}
	if e := r.Fit.Lag; e != nil {
		a.Lag = lagEntry(*e)
	}
	if e := r.Fit.Spread; e != nil {
		a.Spread = spreadEntry(*e)
	}
	if n := r.Fit.NextShot; n != nil {
		if i := interval(*n, unit.Decimals((n.High-n.Low)*1e3/4)); i != nil {
			a.NextShot = &NextEntry{*i}
		}
	}
	if e := r.Fit.TripOffset; e != nil {
		p := unit.Decimals(e.U * 1e3)
		a.TripOffset = &OffsetEntry{unit.Fixed(e.Value*1e3, p), unit.Fixed(e.U*1e3, p)}
	}
	if l := r.TripLine; l != nil {
		a.TripLinePX = [][2]float64{pixel(l.A), pixel(l.B)}
	}
	for _, s := range r.Fit.Speeds {
		p := unit.Decimals(s.U)
		a.Speeds = append(a.Speeds, SpeedEntry{s.Group, unit.Fixed(s.Value, p), unit.Fixed(s.U, p)})
	}
	for _, g := range r.Fit.Advance {
		a.Advance = append(a.Advance, advanceEntry(g))
	}
	for _, b := range r.Fit.Budget {
		e := budgetEntry(b)
		e.Drawn = drawnEntry(b.Of, r.Propagation)
		a.Budget = append(a.Budget, e)
	}
	for _, c := range r.Fit.Checks {
		a.Checks = append(a.Checks, checkEntry(c))
	}
	a.Odd, a.ByHand = oddEntry(r), byHandEntry(r)
	return a
}

func lagEntry(e fit.Estimate) *LagEntry {
	p := unit.Decimals(e.U * 1e3)
	return &LagEntry{unit.Fixed(e.Value*1e3, p), unit.Fixed(e.U*1e3, p), freedom(e.DF), interval(e.Interval95, p)}
}

func spreadEntry(e fit.Estimate) *SpreadEntry {
	p := unit.Decimals(spreadU(e) * 1e3)
	return &SpreadEntry{unit.Fixed(e.Value*1e3, p), freedom(e.DF), interval(e.Interval95, p)}
}

// determined lists what the run could tell in the order of the format's contract. The trip line
// is known wherever a place in the picture is; the fit knows nothing of pictures.
func determined(r calib.Result) []string {
	list := []string{}
	for _, name := range []string{"lag", "spread", "next_shot", "trip_offset", "trip_line", "speeds", "advance"} {
		if slices.Contains(r.Fit.Determined, name) || name == "trip_line" && r.TripLine != nil {
			list = append(list, name)
		}
	}
	return list
}

func advanceEntry(g fit.AdvanceGroup) AdvanceEntry {
	u := g.SD
	if !(u > 0) {
		u = g.Mean.U
	}
	p := unit.Decimals(u * 1e3)
	e := AdvanceEntry{DelayMS: unit.Stated(g.Delay * 1e3), N: g.N, Group: g.Group, MeanMM: unit.Fixed(g.Mean.Value*1e3, p)}
	if g.Drop > 0 {
		e.DropMM = new(unit.Stated(g.Drop * 1e3))
	}
	if g.Speed > 0 {
		e.SpeedMPS = new(unit.Stated(g.Speed))
	}
	if finite(g.SD) && g.N > 1 {
		e.SDMM = new(unit.Fixed(g.SD*1e3, p))
	}
	if g.Tolerance95 != nil {
		e.Tolerance95 = interval(*g.Tolerance95, p)
	}
	return e
}

func frameEntry(f calib.FrameResult) FrameEntry {
	e := FrameEntry{
		File: f.Name, Status: string(f.Status), Reason: f.Reason.String(), Taken: takenText(f.Taken, f.ZoneKnown),
		ExposureS: unit.Stated(f.Exposure), FNumber: unit.Stated(f.FNumber), ISO: f.ISO, FocalMM: unit.Stated(f.Focal * 1e3),
		WidthPX: f.Width, HeightPX: f.Height, Corrected: f.Corrected,
	}
	if f.Status != ruler.StatusRead {
		return e
	}
	p := unit.Decimals(f.U * 1e3)
	e.AdvanceMM, e.UMM = optional(f.Advance*1e3, p), optional(f.U*1e3, p)
	e.ResidualMM = optional(f.Fit.Residual*1e3, p)
	e.Outlier = f.Fit.Outlier
	if f.Speed > 0 {
		p := unit.Decimals(f.SpeedU)
		e.SpeedMPS, e.USpeedMPS = optional(f.Speed, p), optional(f.SpeedU, p)
	}
	if f.PxPerM > 0 {
		e.FrontPX, e.PxPerMM = new(pixel(f.FrontPX)), new(unit.Significant(f.PxPerM*1e-3, 6))
	}
	return e
}

// WarningEntries are a result's warnings as its document has them; never nil.
func WarningEntries(r calib.Result) []WarningEntry {
	out := []WarningEntry{}
	for _, w := range r.Warnings {
		out = append(out, WarningEntry{w.Code, w.Text, slices.Clone(w.Frames)})
	}
	return out
}

func remarksOf(r calib.Result) Remarks {
	m := Remarks{Warnings: WarningEntries(r), Advice: []AdviceEntry{}}
	for _, a := range r.Fit.Advice {
		e := AdviceEntry{Text: a.Text, DelayMS: unit.Stated(a.Delay * 1e3), Shots: a.Shots}
		if a.Drop > 0 {
			e.DropMM = new(unit.Stated(a.Drop * 1e3))
		}
		if a.ULagAfter > 0 && finite(a.ULagAfter) {
			e.ULagAfter = new(unit.Significant(a.ULagAfter*1e3, 3))
		}
		m.Advice = append(m.Advice, e)
	}
	m.Plan = planEntry(r.Run.Goal, r.Plan)
	return m
}

// takenText writes a time with what is known of it: without an offset it is a wall clock's.
func takenText(t time.Time, zone bool) string {
	switch {
	case t.IsZero():
		return ""
	case zone:
		return t.Format("2006-01-02T15:04:05.999999999Z07:00")
	}
	return t.Format("2006-01-02T15:04:05.999999999")
}

// spreadU is the standard uncertainty of a spread, from its interval where none is stated.
func spreadU(e fit.Estimate) float64 {
	if e.U > 0 && finite(e.U) {
		return e.U
	}
	return (e.Interval95.High - e.Interval95.Low) / 4
}

// interval turns an interval into the thousandth part of its unit; nil where an end is not known.
func interval(i fit.Interval, places int) *[2]float64 {
	if !finite(i.Low) || !finite(i.High) {
		return nil
	}
	return &[2]float64{unit.Fixed(i.Low*1e3, places), unit.Fixed(i.High*1e3, places)}
}

func optional(x float64, places int) *float64 {
	if !finite(x) {
		return nil
	}
	return new(unit.Fixed(x, places))
}

func pixel(p ruler.Point) [2]float64 { return [2]float64{unit.Fixed(p.X, 2), unit.Fixed(p.Y, 2)} }

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
