package runfile

// File mirrors run.toml: the units are those in the keys, and nil stands for a key that is
// left out. The same values may be given as flags, under the names of the flag tags.
type File struct {
	Rig    *string `toml:"rig,omitempty" flag:"rig" help:"the rig profile that this run calibrates"`
	Method *string `toml:"method,omitempty" flag:"method" help:"drop: let fall through the beam; push: moved by hand or carriage"`
	Travel *string `toml:"travel,omitempty" flag:"travel" help:"way the front end moves in the picture: down, up, left or right"`

	Ruler      *RulerFile      `toml:"ruler,omitempty" help:"what was moved through the beam"`
	Trip       *TripFile       `toml:"trip,omitempty" help:"where in the picture the beam is tripped"`
	Conditions *ConditionsFile `toml:"conditions,omitempty" help:"defaults for every shot"`
}

// RulerFile mirrors [ruler].
type RulerFile struct {
	GraduationMM *float64 `toml:"graduation_mm,omitempty" flag:"graduation-mm" help:"finest graduation of the ruler, mm (1/16 inch = 1.5875)"`
	FrontMM      *float64 `toml:"front_mm,omitempty" flag:"front-mm" help:"reading at the front end, mm; below 0 where a blank margin lies before the zero line"`
	TwinMS       *float64 `toml:"twin_ms,omitempty" flag:"twin-ms" help:"time between two flashes in one frame, ms"`
	Mark         *string  `toml:"mark,omitempty" flag:"mark" help:"what to find: front, the front end, or band, a bold band across the ruler"`
	BandMM       *float64 `toml:"band_mm,omitempty" flag:"band-mm" help:"reading at the band's leading edge, mm, with mark = \"band\""`
}

// TripFile mirrors [trip].
type TripFile struct {
	LinePX [][]float64 `toml:"line_px,omitempty" flag:"trip-line-px" help:"line across the track, [[x, y], [x, y]] in pixels of the picture as displayed"`
	Still  *string     `toml:"still,omitempty" flag:"still" help:"a frame with the front end resting where it just trips"`
	UMM    *float64    `toml:"u_mm,omitempty" flag:"trip-u-mm" help:"standard uncertainty of that place along the track, mm"`
}

// ConditionsFile mirrors [conditions].
type ConditionsFile struct {
	DropMM        *float64 `toml:"drop_mm,omitempty" flag:"drop-mm" help:"fall of the front end from rest to the trip point, mm"`
	SpeedMPS      *float64 `toml:"speed_mps,omitempty" flag:"speed-mps" help:"measured speed at the trip point, m/s"`
	DelayMS       *float64 `toml:"delay_ms,omitempty" flag:"delay-ms" help:"delay added in the controller, ms"`
	GravityMPS2   *float64 `toml:"gravity_mps2,omitempty" flag:"gravity-mps2" help:"local gravity, m/s^2; or latitude_deg and height_m"`
	LatitudeDeg   *float64 `toml:"latitude_deg,omitempty" flag:"latitude-deg" help:"latitude of the place, degrees, south below 0"`
	HeightM       *float64 `toml:"height_m,omitempty" flag:"height-m" help:"height of the place above the sea, m; the fall is drop_mm"`
	UDropMM       *float64 `toml:"u_drop_mm,omitempty" flag:"u-drop-mm" help:"standard uncertainty of each stated height, one error for all shots that state it, mm"`
	UDropShotMM   *float64 `toml:"u_drop_shot_mm,omitempty" flag:"u-drop-shot-mm" help:"standard uncertainty of letting go, shot by shot, mm"`
	UDropCommonMM *float64 `toml:"u_drop_common_mm,omitempty" flag:"u-drop-common-mm" help:"standard uncertainty shared by every height of the run, mm"`
	USpeedMPS     *float64 `toml:"u_speed_mps,omitempty" flag:"u-speed-mps" help:"standard uncertainty of a measured speed, shot by shot, m/s"`
	SpeedRepeat   *float64 `toml:"speed_repeat,omitempty" flag:"speed-repeat" help:"how well a group's speed repeats, shot to shot, as a share of it (0.01 = 1 %)"`
}
