package plan

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strconv"

	"leadmark/calib/plan/light"
	"leadmark/calib/plan/reach"
	"leadmark/calib/rig"
)

// Schema names the format of plan.json.
const Schema = "leadmark/plan/1"

// Document is plan.json: a Plan in the units of the file formats, rounded to what its drawing supports. What could not be
// told is nil, and absent from the file.
type Document struct {
	Schema   string  `json:"schema"`
	Rig      string  `json:"rig"`
	Subject  string  `json:"subject"`
	LagMS    float64 `json:"lag_ms"`
	SpreadMS float64 `json:"spread_ms"`
	LagDF    float64 `json:"lag_df,omitempty"` // of the t law of the next lag; absent where it is normal
	Assumed  bool    `json:"assumed,omitempty"`
	DelayMS  float64 `json:"delay_ms"`
	Draws    int     `json:"draws"`
	Seed     uint64  `json:"seed"`

	Lead  LeadEntry  `json:"lead"`
	Reach ReachEntry `json:"reach"`
	*FramingEntry
	*FocusEntry
	Blur         *BlurEntry     `json:"blur,omitempty"`
	Chance       *ChanceEntry   `json:"chance,omitempty"`
	Trips        map[string]int `json:"trips,omitempty"`
	Changes      []ChangeEntry  `json:"changes,omitempty"`
	Flash        []FlashEntry   `json:"flash,omitempty"`
	Exposure     *ExposureEntry `json:"exposure,omitempty"`
	AmbientBelow *float64       `json:"ambient_below_flash_stops,omitempty"`
	Moment       *MomentEntry   `json:"moment,omitempty"`
	Backdrop     *BackdropEntry `json:"backdrop,omitempty"`
	Warnings     []Warning      `json:"warnings"`
	Cautions     []string       `json:"cautions"`
}

// LeadEntry is how far the nose is past the trip point.
type LeadEntry struct {
	MeanMM       float64    `json:"mean_mm"`
	SDMM         float64    `json:"sd_mm"`
	Interval95MM [2]float64 `json:"interval95_mm"`
}

// ReachEntry is the box, and its outlines from the side and from above.
type ReachEntry struct {
	Probability  float64      `json:"probability"`
	ProbabilityU float64      `json:"probability_u"`
	AlongMM      [2]float64   `json:"along_mm"`
	UpMM         [2]float64   `json:"up_mm"`
	DepthMM      [2]float64   `json:"depth_mm"`
	EdgeUMM      float64      `json:"edge_u_mm"`
	SideMM       [][2]float64 `json:"side_outline_mm"` // along, up
	TopMM        [][2]float64 `json:"top_outline_mm"`  // along, depth
}

// FramingEntry is the picture's field.
type FramingEntry struct {
	FieldMM          [2]float64 `json:"field_mm"`
	Orientation      string     `json:"orientation"`
	Magnification    float64    `json:"magnification"`
	SubjectDistMM    float64    `json:"subject_distance_mm"` // from the lens
	SensorDistanceMM float64    `json:"sensor_distance_mm"`
	AimMM            [2]float64 `json:"aim_mm"`
}

// FocusEntry is the aperture; the depths are far and near, and the far one is absent where it has no end.
type FocusEntry struct {
	FNumber      float64     `json:"f_number"`
	DepthOfField []*float64  `json:"depth_of_field_mm"`
	DepthNeeded  *[2]float64 `json:"depth_needed_mm,omitempty"`
}

// BlurEntry is the budget of blur on the sensor, at the edge of the depth that is needed.
type BlurEntry struct {
	MotionUM      *float64 `json:"motion_um,omitempty"`
	MotionPX      *float64 `json:"motion_px,omitempty"`
	DiffractionUM float64  `json:"diffraction_um"`
	DefocusUM     float64  `json:"defocus_um"`
	PixelUM       *float64 `json:"pixel_um,omitempty"`
	TotalUM       float64  `json:"total_um"`
	TotalPX       *float64 `json:"total_px,omitempty"`
	TotalPrintMM  float64  `json:"total_print_mm"`
	PrintMM       float64  `json:"print_mm"`
	LimitUM       float64  `json:"limit_um"`
}

// ChanceEntry is what one trip gives.
type ChanceEntry struct {
	InField *float64 `json:"in_field,omitempty"`
	InFocus *float64 `json:"in_focus,omitempty"`
	Frozen  *float64 `json:"frozen,omitempty"`
	Keeper  *float64 `json:"keeper,omitempty"`
	AtMost  *float64 `json:"keeper_at_most,omitempty"` // where frozen is not known
	Clips   Clips    `json:"clips"`
}

// Clips are the shares of trips in which the body sticks out of the picture on a side.
type Clips struct {
	Behind float64 `json:"behind"`
	Ahead  float64 `json:"ahead"`
	Below  float64 `json:"below"`
	Above  float64 `json:"above"`
}

// ChangeEntry is a small change and the chance with it.
type ChangeEntry struct {
	Text   string  `json:"text"`
	Keeper float64 `json:"keeper"`
	Gain   float64 `json:"gain"`
}

// FlashEntry is how one head is to be set.
type FlashEntry struct {
	Name             string   `json:"name"`
	Lights           string   `json:"lights,omitempty"`
	Power            string   `json:"power,omitempty"`
	T01US            *float64 `json:"t01_us,omitempty"`
	T05US            *float64 `json:"t05_us,omitempty"` // where t0.1 is not stated
	EffectiveFNumber *float64 `json:"effective_f_number,omitempty"`
	OverStops        *float64 `json:"over_stops,omitempty"`
	RatioStops       *float64 `json:"ratio_stops,omitempty"` // to the heads on the subject together
	FreezePower      string   `json:"freeze_power,omitempty"`
	FreezeDistanceMM *float64 `json:"freeze_distance_mm,omitempty"`
	Missing          []string `json:"missing,omitempty"` // keys of rig.toml
}

// ExposureEntry is what the camera is to be set to, and what the heads on the subject give together.
type ExposureEntry struct {
	ISO              float64  `json:"iso"`
	ShutterS         *float64 `json:"shutter_s,omitempty"`
	NeededFNumber    float64  `json:"needed_f_number"` // at work, N (1 + m/P)
	EffectiveFNumber float64  `json:"effective_f_number"`
	OverStops        float64  `json:"over_stops"`
	EnergyJ          float64  `json:"energy_j,omitempty"`
	RecycleS         float64  `json:"recycle_s,omitempty"`
	TripsADay        int      `json:"trips_a_day,omitempty"`
}

// MomentEntry is how to have the nose at a place.
type MomentEntry struct {
	AtMM         float64    `json:"at_mm"`
	TripBeforeMM float64    `json:"trip_before_mm"`
	DelayMS      float64    `json:"delay_ms"`
	StandBackMM  float64    `json:"stand_back_mm"`
	SDMM         float64    `json:"sd_mm"`
	Interval95MM [2]float64 `json:"interval95_mm"`
}

// BackdropEntry is the backdrop that lies further from the subject's colours.
type BackdropEntry struct {
	Choose string  `json:"choose"`
	Blue   float64 `json:"blue_distance"`
	Green  float64 `json:"green_distance"`
}

// Encode writes a plan as plan.json, indented; the same plan gives the same bytes.
func Encode(p Plan) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(NewDocument(p)); err != nil {
		return nil, fmt.Errorf("writing the plan as JSON: %w", err)
	}
	return b.Bytes(), nil
}

// NewDocument turns a plan into the units and the roundings of plan.json.
func NewDocument(p Plan) Document {
	r := p.Request
	d := Document{Schema: Schema, Rig: r.Rig.Name, Subject: r.Subject.Name, LagMS: digits(r.Lag.Mean*1e3, 6), SpreadMS: digits(r.Lag.Spread*1e3, 4), LagDF: digits(r.Lag.DF, 3),
		Assumed: r.Lag.Assumed, DelayMS: digits(p.Delay*1e3, 9), Draws: r.Options.Draws, Seed: r.Options.Seed, Lead: leadEntry(p.Lead), Reach: reachEntry(p.Reach),
		Warnings: append([]Warning{}, p.Warnings...), Cautions: append([]string{}, p.Cautions...)}
	if p.Framing != nil {
		d.picture(p)
	}
	if l := p.Light; l != nil {
		d.light(*l)
	}
	if m := p.Moment; m != nil {
		d.Moment = &MomentEntry{digits(m.At*1e3, 9), mm(m.TripBefore), digits(m.Delay*1e3, 4), mm(m.StandBack), mm(m.SD), [2]float64{mm(m.Interval95[0]), mm(m.Interval95[1])}}
	}
	if b := p.Backdrop; b != nil {
		d.Backdrop = &BackdropEntry{b.Choose, digits(b.Blue, 3), digits(b.Green, 3)}
	}
	return d
}

func leadEntry(l reach.Lead) LeadEntry {
	return LeadEntry{mm(l.Mean), mm(l.SD), [2]float64{mm(l.Interval95[0]), mm(l.Interval95[1])}}
}

// reachEntry rounds the box outward, at the place of the error's first digit, so that it still holds what it says.
func reachEntry(r reach.Box) ReachEntry {
	step := 1e-3 // mm
	if r.EdgeU > 0 {
		step = max(step, math.Pow(10, math.Floor(math.Log10(r.EdgeU*1e3))))
	}
	out := func(x [2]float64) [2]float64 {
		return [2]float64{digits(math.Floor(x[0]*1e3/step+1e-6)*step, 9), digits(math.Ceil(x[1]*1e3/step-1e-6)*step, 9)}
	}
	points := func(p [][2]float64) [][2]float64 {
		all := [][2]float64{}
		for _, q := range p {
			all = append(all, [2]float64{mm(q[0]), mm(q[1])})
		}
		return all
	}
	return ReachEntry{r.Probability, digits(r.ProbabilityU, 2), out(r.Along), out(r.Up), out(r.Depth), digits(r.EdgeU*1e3, 2), points(r.SideView), points(r.TopView)}
}

func (d *Document) picture(p Plan) {
	f, o := p.Framing, p.Focus
	d.FramingEntry = &FramingEntry{FieldMM: [2]float64{mm(f.Field[0]), mm(f.Field[1])}, Orientation: f.Orientation(), Magnification: digits(f.Optics.Magnification, 4),
		SubjectDistMM: digits(f.Optics.Distance()*1e3, 4), SensorDistanceMM: digits(f.Optics.SensorDistance()*1e3, 4), AimMM: [2]float64{mm(f.Aim[0]), mm(f.Aim[1])}}
	near := digits(o.Near*1e3, 3)
	d.FocusEntry = &FocusEntry{FNumber: MarkedFNumber(o.Optics.FNumber), DepthOfField: []*float64{finite(o.Far*1e3, 3), &near}, DepthNeeded: &[2]float64{-mm(o.Depth), mm(o.Depth)}}
	d.Blur = blurEntry(*o)
	d.Chance = chanceEntry(*p.Chance)
	for _, t := range p.Trips {
		if d.Trips == nil {
			d.Trips = map[string]int{}
		}
		if t.N > 0 {
			d.Trips[strconv.FormatFloat(t.Confidence, 'f', 2, 64)] = t.N
		}
	}
	for _, c := range p.Changes {
		d.Changes = append(d.Changes, ChangeEntry{c.Text, chanceDigits(c.Keeper), chanceDigits(c.Gain)})
	}
}

// Orientation is how the camera is held.
func (f Framing) Orientation() string {
	if f.Portrait {
		return Portrait
	}
	return Landscape
}

func blurEntry(f Focus) *BlurEntry {
	b, um := f.Blur, func(x float64) float64 { return digits(x*1e6, 3) }
	e := &BlurEntry{DiffractionUM: um(b.Diffraction), DefocusUM: um(b.Defocus), TotalUM: um(b.Total), TotalPrintMM: digits(b.Total*f.Print*1e3, 2), PrintMM: digits(f.PrintLong*1e3, 4), LimitUM: um(f.Limit)}
	px := func(x float64) *float64 {
		if f.PixelPitch == 0 {
			return nil
		}
		y := digits(x/f.PixelPitch, 2)
		return &y
	}
	if b.Frozen {
		x := um(b.Motion)
		e.MotionUM, e.MotionPX = &x, px(b.Motion)
	}
	e.TotalPX = px(b.Total)
	if f.PixelPitch > 0 {
		x := um(b.Pixel)
		e.PixelUM = &x
	}
	return e
}

func chanceEntry(c Chance) *ChanceEntry {
	get := func(s *reach.Share) *float64 {
		if s == nil {
			return nil
		}
		x := chanceDigits(s.P)
		return &x
	}
	return &ChanceEntry{get(c.InField), get(c.InFocus), get(c.Frozen), get(c.Keeper), get(c.AtMost),
		Clips{chanceDigits(c.Clips[0].P), chanceDigits(c.Clips[1].P), chanceDigits(c.Clips[2].P), chanceDigits(c.Clips[3].P)}}
}

// chanceDigits keeps what 100 000 trips and the inputs support: a tenth of a per cent.
func chanceDigits(p float64) float64 { return math.Round(p*1e3) / 1e3 }

func (d *Document) light(l light.Light) {
	d.AmbientBelow = nil
	if a := l.AmbientBelow; a != nil {
		d.AmbientBelow = finite(*a, 2)
	}
	e := &ExposureEntry{ISO: light.MarkedISO(l.ISO), NeededFNumber: digits(l.NeededFNumber, 3), EffectiveFNumber: digits(l.FNumber, 3), OverStops: hundredths(l.Over),
		EnergyJ: digits(l.Energy, 2), RecycleS: digits(l.Recycle, 2), TripsADay: l.TripsADay}
	if l.Exposure > 0 {
		e.ShutterS = finite(l.Exposure, 4)
	}
	if l.FNumber > 0 {
		d.Exposure = e
	}
	for _, h := range l.Heads {
		d.Flash = append(d.Flash, flashEntry(h))
	}
}

func flashEntry(h light.Head) FlashEntry {
	e := FlashEntry{Name: h.Name, Lights: string(h.Lights), Missing: h.Missing}
	if len(h.Missing) > 0 {
		return e
	}
	e.Power, e.EffectiveFNumber = rig.PowerText(h.Power), finite(h.FNumber, 3)
	over, ratio := hundredths(h.Over), hundredths(h.Ratio)
	e.OverStops, e.RatioStops = &over, &ratio
	switch f := h.Flash; {
	case f == nil:
	case f.Bound:
		e.T05US = finite(f.T05*1e6, 4)
	default:
		e.T01US = finite(f.T01*1e6, 4)
	}
	if h.Freeze > 0 {
		e.FreezePower, e.FreezeDistanceMM = rig.PowerText(h.Freeze), finite(h.FreezeAt*1e3, 3)
	}
	return e
}

func hundredths(x float64) float64 { return math.Round(x*100) / 100 }

// mm turns metres into millimetres, to a hundredth or four digits, whichever is coarser.
func mm(x float64) float64 {
	y := math.Round(x*1e5) / 1e2
	if math.Abs(y) >= 100 {
		return digits(y, 4)
	}
	return y + 0 // no -0
}

// digits rounds to n significant digits.
func digits(x float64, n int) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', n, 64), 64)
	if err != nil || y == 0 {
		return 0
	}
	return y
}

// finite is nil for a number without end.
func finite(x float64, n int) *float64 {
	if math.IsInf(x, 0) || math.IsNaN(x) {
		return nil
	}
	y := digits(x, n)
	return &y
}
