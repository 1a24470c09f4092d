package subject

import (
	"leadmark/fit/unit"
	"math"
)

// Value is a subject's value as subject.toml writes it, with its unit, by its key; "" for one that
// has none.
func (s Subject) Value(key string) string {
	num := func(x, scale float64, symbol string) string {
		return unit.Decimal(unit.Significant(x*scale, 6)) + " " + symbol
	}
	deg := 180 / math.Pi
	switch key {
	case "length_mm":
		return num(s.Length, 1e3, "mm")
	case "height_mm":
		return num(s.Height, 1e3, "mm")
	case "width_mm":
		return num(s.Width, 1e3, "mm")
	case "behind_nose_mm":
		return num(s.BehindNose, 1e3, "mm")
	case "speed_mps":
		return num(s.Speed, 1, "m/s")
	case "speed_sd_mps":
		return num(s.SpeedSD, 1, "m/s")
	case "elevation_deg":
		return num(s.Elevation, deg, "degrees")
	case "elevation_sd_deg":
		return num(s.ElevationSD, deg, "degrees")
	case "azimuth_sd_deg":
		return num(s.AzimuthSD, deg, "degrees")
	case "exit_mm":
		return num(s.Exit[0], 1e3, "x") + " " + num(s.Exit[1], 1e3, "mm")
	case "motion":
		return string(s.Motion)
	case "course":
		return s.CourseFile
	case "focus_on":
		return s.FocusOn
	}
	return ""
}
