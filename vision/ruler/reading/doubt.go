package reading

import (
	"math"

	"leadmark/vision/ruler"
)

// longU is the standard uncertainty, px, of the place of the ruler's long axis across it; perMM is
// the scale in px per mm.
func longU(r ruler.Row, perMM float64) float64 {
	a, b := r.Sides[0], r.Sides[1]
	if a == nil || b == nil {
		return usualAxis * perMM
	}
	return math.Hypot(axisDoubt, axisDoubtW*math.Abs(a.Distance(b.A.Add(b.B).Mul(0.5))))
}

// motionBlurU is the standard uncertainty, px, of where marks and ends were at the middle of the
// flash's light, which their pictures, blurred by the movement, do not tell: from the blur of the
// sharpest of the ruler's own edges across it that are as plain as its marks, else of the plainest
// edge, against that of its long edges. A shadow's is softer, and the scene stood still.
func motionBlurU(r ruler.Row) float64 {
	var best, plainest ruler.Step
	for _, s := range r.Steps {
		if math.Abs(s.Contrast)*s.Coherent > math.Abs(plainest.Contrast)*plainest.Coherent {
			plainest = s
		}
		plain := s.WidthU > 0 && s.Coherent >= ruler.WholeWidth && math.Abs(s.Contrast) >= r.Contrast
		if plain && (s.Outline >= ruler.HalfEnds || r.Within(s.T)) && (best.WidthPX == 0 || s.WidthPX < best.WidthPX) {
			best = s
		}
	}
	if best.WidthPX == 0 {
		best = plainest
	}
	sd := best.WidthPX / tenNinety
	if r.SideBlur == 0 {
		return motionGuess * sd
	}
	chance := 2 * sd * motionNoise * best.WidthU / tenNinety // by which blurs alike differ
	return motionDoubt * math.Sqrt(max(0, sd*sd-r.SideBlur*r.SideBlur-chance))
}

// middleLine is the ruler's long axis, midway between its long edges; the row's own axis
// where they were not found.
func middleLine(r ruler.Row) ruler.Line {
	a, b := r.Sides[0], r.Sides[1]
	if a == nil || b == nil {
		return ruler.Line{A: r.Origin, B: r.Origin.Add(r.Dir)}
	}
	return ruler.Line{A: a.A.Add(b.A).Mul(0.5), B: a.B.Add(b.B).Mul(0.5)}
}
