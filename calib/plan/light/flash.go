package light

import (
	"math"

	"leadmark/calib/rig"
)

// Flash is a duration. Times in seconds.
type Flash struct {
	T01   float64 // t0.1, the time above a tenth of the peak (ISO 2827)
	T05   float64 // where only t0.5 is stated
	Bound bool    // T01 is the most it can be given T05
}

// tailRatio is t0.1/t0.5 of a flash that dies away exponentially, ln 10/ln 2. Measured heads cut
// off early have 1.8 to 2, so it bounds t0.1 from above where only t0.5 is stated.
var tailRatio = math.Ln10 / math.Ln2

// flashAt looks a duration up. Between stated powers nothing is made up: the duration is not
// proportional to the power.
func flashAt(h rig.Head, power float64) *Flash {
	if t := durationAt(h.T01, power); t > 0 {
		return &Flash{T01: t}
	}
	if t := durationAt(h.T05, power); t > 0 {
		return &Flash{T01: t * tailRatio, T05: t, Bound: true}
	}
	return nil
}

func durationAt(table []rig.Duration, power float64) float64 {
	for _, d := range table {
		if math.Abs(math.Log2(d.Power/power)) < 0.02 {
			return d.Seconds
		}
	}
	return 0
}

// MotionBlur is how far the picture of the subject moves on the sensor while the flash lasts: speed
// across the view x t0.1 x m.
func MotionBlur(speed, t01, m float64) float64 { return speed * t01 * m }
