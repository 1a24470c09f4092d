package figure

import (
	"leadmark/calib"
	"leadmark/calib/rig"
)

// Of are the figures of a run for a page of one's own: the answer on its scale, the fitted curve,
// the residuals.
func Of(r calib.Result) []Figure {
	s := ListShots(r)
	return figuresOf(Answer(r, s), Curve(r, s), Residuals(r, s))
}

// OfChart are the figures of a control chart: the lags, and their moving range.
func OfChart(c rig.Chart) []Figure { return figuresOf(Lags(c), Ranges(c)) }

func figuresOf(all ...*Figure) []Figure {
	var out []Figure
	for _, f := range all {
		if f != nil {
			out = append(out, *f)
		}
	}
	return out
}
