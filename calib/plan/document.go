package plan

import (
	"leadmark/calib/provenance"
	"leadmark/calib/words"
	"leadmark/fit/note"
)

// Schema names the format of plan.json.
const Schema = "leadmark/plan/1"

// Document is plan.json: a Plan in the units of the file formats, rounded to what its drawing
// supports. What could not be told is nil, and absent from the file.
type Document struct {
	Schema string `json:"schema"`
	provenance.Made
	Rig      string  `json:"rig"`
	Subject  string  `json:"subject"`
	LagMS    float64 `json:"lag_ms"`
	SpreadMS float64 `json:"spread_ms"`
	LagDF    float64 `json:"lag_df,omitempty"` // of the next lag; absent where it is normal
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
	Warnings     []WarningEntry `json:"warnings"`
	Cautions     []string       `json:"cautions"`
}

// WarningEntry is a doubt about a plan or a shoot, and its remedy.
type WarningEntry struct {
	Code string `json:"code"`
	Text string `json:"text"`
}

// WarningEntries puts doubts into words.
func WarningEntries(notes []note.Note) []WarningEntry {
	all := []WarningEntry{}
	for _, n := range notes {
		all = append(all, WarningEntry{n.Code, words.Sentence(n)})
	}
	return all
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

// FocusEntry is the aperture; the depths are far and near, and the far one is absent where it has
// no end.
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

// ExposureEntry is what the camera is to be set to, and what the heads on the subject give
// together.
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
