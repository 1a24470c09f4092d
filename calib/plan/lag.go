package plan

import (
	"fmt"
	"math"

	"leadmark/calib/input"
	"leadmark/calib/plan/predict"
	"leadmark/calib/rig"
)

// LagOf is the law of the next trip's lag given a calibration: its mean is known with standard
// uncertainty u, its spread with some degrees of freedom. For n equal shots that is Student's t
// with n-1 degrees of freedom and scale s sqrt(1+1/n), the law of the textbook's prediction
// interval; here the scale is set so that the law's middle 95 % are the calibration's next_shot
// interval, which has all its uncertainties, and where a file does not state that, scale^2 =
// spread^2 + u^2.
//
// It returns an *input.NoResult where the calibration is too poor to plan with: no lag, no spread,
// fewer than 2 degrees of freedom, or a next shot that may come before the trip.
func LagOf(name string, e rig.Entry) (predict.Law, error) {
	poor := func(why string) error {
		return &input.NoResult{What: fmt.Sprintf("the calibration of %s is too poor to plan with: %s",
			name, why),
			Hint: "calibrate with more shots from two heights or more, or assume values: " +
				"--lag-ms L --spread-ms S"}
	}
	if e.Lag == nil || e.Spread == nil {
		return predict.Law{}, poor("it tells no lag, or no spread from shot to shot")
	}
	lag, spread := e.Lag.Estimate(), e.Spread.Estimate()
	l := predict.Law{Mean: lag.Value, MeanU: lag.U, Spread: spread.Value, DF: spread.DF,
		Scale: math.Hypot(spread.Value, lag.U)}
	if !(l.DF >= predict.FewestDF) {
		return l, poor(fmt.Sprintf("its spread rests on %.2g degrees of freedom", l.DF))
	}
	if n := e.NextShot; n != nil {
		l.Scale = (n.Interval95[1] - n.Interval95[0]) * 1e-3 / 2 / l.StandardQuantile(0.975)
		l.Mean = (n.Interval95[1] + n.Interval95[0]) * 1e-3 / 2
	}
	if low := l.Mean - l.Scale*l.StandardQuantile(0.975); !(l.Scale >= 0) || low <= 0 {
		return l, poor("the next shot's lag may be anything from nothing on")
	}
	return l, nil
}
