package stat

import "math"

// Root finds the root of a rising function between lo and hi (regula falsi, Illinois variant:
// Dowell and Jarratt, BIT 11 (1971) 168).
func Root(f func(float64) float64, lo, hi float64) float64 {
	flo, fhi := f(lo), f(hi)
	side := 0
	for i := 0; i < 100 && hi-lo > 1e-13*math.Abs(hi); i++ {
		x := hi - fhi*(hi-lo)/(fhi-flo)
		if !(x > lo && x < hi) {
			x = (lo + hi) / 2
		}
		fx := f(x)
		switch {
		case math.Abs(fx) < 1e-14:
			return x
		case fx > 0:
			hi, fhi = x, fx
			if side > 0 {
				flo /= 2
			}
			side = 1
		default:
			lo, flo = x, fx
			if side < 0 {
				fhi /= 2
			}
			side = -1
		}
	}
	return (lo + hi) / 2
}
