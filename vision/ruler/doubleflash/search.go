package doubleflash

import (
	"math"

	"leadmark/vision/ruler"
	"leadmark/vision/ruler/scale"
)

const (
	sure  = 20.0 // log-likelihood by which two combs must beat one, and any other reading of the picture
	agree = 0.45 // graduations, most by which front ends and lines may differ
)

// Fit looks for two images of the ruler in a row's face: two front ends, and two combs of
// lines as far apart. nil where there are none. The spec must say which way the front end points.
func Fit(row ruler.Row, face Face, spec ruler.Spec) *ruler.TwinRow {
	l, ok := scale.Fit(row.Marks)
	forward := spec.Forward(row.Dir)
	if !ok || forward == 0 {
		return nil
	}
	f := fitter{row: row, face: face, spec: spec, scale: &l, forward: float64(forward)}
	if !f.straighten() {
		return nil
	}
	var best, next *fitted
	for f.stride = 1; f.stride <= 3; f.stride++ {
		if !f.findCombs() {
			continue
		}
		for _, p := range f.pairs() {
			t := f.fit(p)
			switch {
			case t == nil || t.Evidence < sure:
			case best == nil:
				best = t
			case t.Score > best.Score:
				best, next = t, rival(best, next, t)
			default:
				next = rival(t, next, best)
			}
		}
	}
	if best == nil || next != nil && best.Score-next.Score < sure || !sound(best.TwinRow) || best.doubtful {
		return nil
	}
	return best.TwinRow
}

// sound says whether front ends and lines agree, and the front ends are straight edges across the
// ruler.
func sound(t *ruler.TwinRow) bool {
	return math.Abs(t.Apart-t.Moved) < agree && min(t.Rear.Coherent, t.Lead.Coherent) > 0.7
}

// rival is the better of two other fits, where they differ from the best in what they say.
func rival(a, b, best *fitted) *fitted {
	const differ = 0.5 // graduations
	var out *fitted
	for _, t := range []*fitted{a, b} {
		if t == nil || out != nil && !(t.Score > out.Score) {
			continue
		}
		off := math.Abs(t.Moved-best.Moved) + math.Abs(t.Rear.T-best.Rear.T)/math.Abs(best.B)*best.Half
		if off > differ {
			out = t
		}
	}
	return out
}
