package plan

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"leadmark/calib/input"
	"leadmark/calib/rig"
)

// LagLaw is the law of the next trip's lag: Student's t about Mean with DF degrees of freedom, or the
// normal where DF is 0; either cut off at a lag of zero. Times in seconds.
type LagLaw struct {
	Mean    float64
	Scale   float64 // of the t, or the normal's standard deviation
	DF      float64 // 0: normal
	Spread  float64 // shot to shot, without the uncertainty of the mean
	MeanU   float64 // standard uncertainty of the mean lag
	Assumed bool    // stated by a person, not measured
}

// AssumedLag is the law of a lag that nobody measured: normal, as stated.
func AssumedLag(lag, spread float64) LagLaw {
	return LagLaw{Mean: lag, Scale: spread, Spread: spread, Assumed: true}
}

// fewestDF is below which a spread says next to nothing: with fewer the predictive law has no variance.
const fewestDF = 2

// LagOf is the law of the next trip's lag given a calibration: its mean is known with standard uncertainty
// u, its spread with some degrees of freedom. For n equal shots that is Student's t with n-1 degrees of
// freedom and scale s sqrt(1+1/n), the law of the textbook's prediction interval; here the scale is set so
// that the law's middle 95 % are the calibration's next_shot interval, which has all its uncertainties, and
// where a file does not state that, scale^2 = spread^2 + u^2.
//
// It returns an *input.NoResult where the calibration is too poor to plan with: no lag, no spread, fewer
// than 2 degrees of freedom, or a next shot that may come before the trip.
func LagOf(name string, e rig.Entry) (LagLaw, error) {
	poor := func(why string) error {
		return &input.NoResult{What: fmt.Sprintf("the calibration of %s is too poor to plan with: %s", name, why),
			Hint: "calibrate with more shots from two heights or more, or assume values: --lag-ms L --spread-ms S"}
	}
	if e.Lag == nil || e.Spread == nil {
		return LagLaw{}, poor("it tells no lag, or no spread from shot to shot")
	}
	lag, spread := e.Lag.Estimate(), e.Spread.Estimate()
	l := LagLaw{Mean: lag.Value, MeanU: lag.U, Spread: spread.Value, DF: spread.DF, Scale: math.Hypot(spread.Value, lag.U)}
	if !(l.DF >= fewestDF) {
		return l, poor(fmt.Sprintf("its spread rests on %.2g degrees of freedom", l.DF))
	}
	if n := e.NextShot; n != nil {
		l.Scale = (n.Interval95[1] - n.Interval95[0]) * 1e-3 / 2 / l.quantileT(0.975)
		l.Mean = (n.Interval95[1] + n.Interval95[0]) * 1e-3 / 2
	}
	if low := l.Mean - l.Scale*l.quantileT(0.975); !(l.Scale >= 0) || low <= 0 {
		return l, poor("the next shot's lag may be anything from nothing on")
	}
	return l, nil
}

// quantileT is the quantile of the standardised law.
func (l LagLaw) quantileT(p float64) float64 {
	if l.DF == 0 || l.DF > 1e5 {
		return normalQuantile(p)
	}
	return distuv.StudentsT{Sigma: 1, Nu: l.DF}.Quantile(p)
}

// cdfT is the distribution of the standardised law.
func (l LagLaw) cdfT(x float64) float64 {
	if l.DF == 0 || l.DF > 1e5 {
		return normalCDF(x)
	}
	return distuv.StudentsT{Sigma: 1, Nu: l.DF}.CDF(x)
}

// Quantile is the lag below which a share p of trips fall.
func (l LagLaw) Quantile(p float64) float64 {
	if l.Scale == 0 {
		return l.Mean
	}
	cut := l.cdfT(-l.Mean / l.Scale)
	return l.Mean + l.Scale*l.quantileT(cut+p*(1-cut))
}

// bend is the standardised law's quantile as a function of the normal's: a table, since millions are drawn.
// Between its points lies a straight line, off by less than 1e-3 of the scale wherever 0.9999 of trips lie.
type bend struct {
	table []float64 // at z = k/bendStep - bendTo
}

const (
	bendStep = 64
	bendTo   = 9 // no number drawn lies further out (sequence.next has 52 bits)
	bendFlat = 5 // beyond it 6e-7 of the trips lie, and the law is taken as it is there
)

func (l LagLaw) bend() bend {
	if l.DF == 0 || l.DF > 1e5 {
		return bend{}
	}
	const half = bendTo * bendStep
	b := bend{make([]float64, 2*half+2)}
	for k := 1; k <= half; k++ {
		t := b.table[half-k+1]
		if k <= bendFlat*bendStep {
			t = l.quantileT(normalCDF(-float64(k) / bendStep)) // the lower tail keeps its digits
		}
		b.table[half-k], b.table[half+k] = t, -t
	}
	return b
}

func (b bend) at(z float64) float64 {
	if b.table == nil {
		return z
	}
	x := (z + bendTo) * bendStep
	k := int(x)
	return b.table[k] + (x-float64(k))*(b.table[k+1]-b.table[k])
}
