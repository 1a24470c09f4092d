package reading

import (
	"math"

	"leadmark/vision/ruler"
	"leadmark/vision/ruler/scale"
)

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
	s.SmearU, s.PlaceU = motionBlurU(row), math.Hypot(placing, crowding/l.Pitch(l.Mid))
	p := conv(l.A, l.B, l.C)
	s.T0, s.T1, s.T2 = p[0], p[1], p[2]
	// The covariance follows by the derivatives of the substitution, taken numerically.
	var jac [3][3]float64
	base := [3]float64{l.A, l.B, l.C}
	for k := range base {
		h := slope * math.Max(1, math.Abs(base[k]))
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
