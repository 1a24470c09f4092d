package subject

// File mirrors subject.toml: the units are those in the keys, and nil stands for a key that is
// left out. The same values may be given as flags, under the names of the flag tags.
type File struct {
	Name           *string   `toml:"name,omitempty" flag:"name" help:"what the subject is"`
	LengthMM       *float64  `toml:"length_mm,omitempty" flag:"length-mm" help:"body, nose to tail, mm"`
	HeightMM       *float64  `toml:"height_mm,omitempty" flag:"height-mm" help:"body's height, mm"`
	WidthMM        *float64  `toml:"width_mm,omitempty" flag:"width-mm" help:"body's width, mm, with the wings if they are to be in the picture"`
	Motion         *string   `toml:"motion,omitempty" flag:"motion" help:"straight: flight, or a run on a plane; hop: free fall; table: a measured course"`
	SpeedMPS       *float64  `toml:"speed_mps,omitempty" flag:"speed-mps" help:"speed at the trip point, m/s"`
	SpeedSDMPS     *float64  `toml:"speed_sd_mps,omitempty" flag:"speed-sd-mps" help:"its standard deviation from trip to trip, m/s"`
	SpeedUMPS      *float64  `toml:"u_speed_mps,omitempty" help:"standard uncertainty of the mean speed, m/s"`
	SpeedDF        *float64  `toml:"speed_df,omitempty" help:"degrees of freedom of speed_sd_mps"`
	ElevationDeg   *float64  `toml:"elevation_deg,omitempty" flag:"elevation-deg" help:"heading above the horizontal, degrees"`
	ElevationSDDeg *float64  `toml:"elevation_sd_deg,omitempty" flag:"elevation-sd-deg" help:"its standard deviation, degrees"`
	ElevationUDeg  *float64  `toml:"u_elevation_deg,omitempty" help:"standard uncertainty of the mean heading, degrees"`
	ElevationDF    *float64  `toml:"elevation_df,omitempty" help:"degrees of freedom of elevation_sd_deg"`
	AzimuthSDDeg   *float64  `toml:"azimuth_sd_deg,omitempty" flag:"azimuth-sd-deg" help:"standard deviation of the heading toward or away from the camera, degrees"`
	ExitMM         []float64 `toml:"exit_mm,omitempty" flag:"exit-mm" help:"the opening's height and its width along the view, mm"`
	BehindNoseMM   *float64  `toml:"behind_nose_mm,omitempty" flag:"behind-nose-mm" help:"how far behind the nose the part is that breaks the beam, mm"`
	Course         *string   `toml:"course,omitempty" flag:"course" help:"motion table: CSV file of the course, time_ms,along_mm,up_mm from the trip on"`
	FocusOn        *string   `toml:"focus_on,omitempty" flag:"focus-on" help:"what must be in focus: body, all of it, or nose, where the eyes are"`

	Sources map[string]string `toml:"sources,omitempty" help:"where a value comes from, by its key"`
}
