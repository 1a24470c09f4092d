package reading

import (
	"math"

	"leadmark/vision/ruler"
	"leadmark/vision/ruler/scale"
)

const (
	// mm from the marks to a ruler's long axis, where its edges do not tell; common practice, no source
	usualAxis  = 11.0
	axisDoubt  = 0.3  // px, of the long axis between two edges that were found
	axisDoubtW = 0.01 // and of the ruler's width: bevels and shadows
	// A flash rises fast and fades slowly, so the mean of its light lies after the middle by up to
	// 0.31 of the time constant of the fading (1 - ln 2, for an exponential), which is about its
	// standard deviation.
	smearDoubt = 0.25
	smearGuess = 0.12 // the same against all blur, where the lens's is not known
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

const (
	smearNoise = 2.0   // standard uncertainties of the blur that count as none
	tenNinety  = 2.563 // 10 to 90 % of a Gaussian's distribution in standard deviations
)

// smearU is the standard uncertainty, px, of where marks and ends were at the middle of the flash's
// light, which their pictures, smeared by the movement, do not tell: from the blur of the best edge
// across the ruler against that of its long edges.
func smearU(r ruler.Row) float64 {
	var best ruler.Step
	for _, s := range r.Steps {
		if math.Abs(s.Contrast)*s.Coherent > math.Abs(best.Contrast)*best.Coherent {
			best = s
		}
	}
	sd := best.WidthPX / tenNinety
	if r.SideBlur == 0 {
		return smearGuess * sd
	}
	chance := 2 * sd * smearNoise * best.WidthU / tenNinety // by which blurs alike differ
	return smearDoubt * math.Sqrt(max(0, sd*sd-r.SideBlur*r.SideBlur-chance))
}

// scaleOf turns a scale by index into one by reading, substituting m = alpha + beta r.
func scaleOf(l *scale.ByIndex, row ruler.Row, n numbering) ruler.Scale {
	s := ruler.Scale{Origin: row.Origin, Dir: row.Dir, Lean: row.Lean, LeanTurn: row.LeanTurn, LeanU: row.LeanU,
		Side: row.Side,
		Long: middleLine(row), Edge: row.Sides[0], ResidualPX: l.RMS, Used: l.Used}
	conv := func(a, b, c float64) [3]float64 {
		alpha, beta := (n.zero-l.Mid)/l.Half, 1/(n.step*l.Half)
		d := 1 + c*alpha
		return [3]float64{(a + b*alpha) / d, b * beta / d, c * beta / d}
	}
	s.LongU = longU(row, math.Abs(1e-3*l.Pitch(l.Mid)/n.step))
	s.SmearU, s.PlaceU = smearU(row), math.Hypot(placing, crowding/l.Pitch(l.Mid))
	p := conv(l.A, l.B, l.C)
	s.T0, s.T1, s.T2 = p[0], p[1], p[2]
	// The covariance follows by the derivatives of the substitution, taken numerically.
	var jac [3][3]float64
	base := [3]float64{l.A, l.B, l.C}
	for k := range base {
		h := 1e-6 * math.Max(1, math.Abs(base[k]))
		up, down := base, base
		up[k] += h
		down[k] -= h
		pu, pd := conv(up[0], up[1], up[2]), conv(down[0], down[1], down[2])
		for r := range jac {
			jac[r][k] = (pu[r] - pd[r]) / (2 * h)
		}
	}
	for r := range s.Cov {
		for c := range s.Cov[r] {
			for i := range base {
				for j := range base {
					s.Cov[r][c] += jac[r][i] * l.Cov[i][j] * jac[c][j]
				}
			}
		}
	}
	return s
}

const (
	// placing is the standard uncertainty, px, with which marks are placed on average whatever
	// their number: pixels' own sampling, compression and the lens's distortion along the row; and
	// crowding, px^2, is what is added to it by marks that lie so close that they run into each other,
	// over their pitch. Both were set by rendered frames with up to half a percent of barrel distortion.
	placing  = 0.05
	crowding = 0.4
)
