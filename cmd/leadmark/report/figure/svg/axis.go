package svg

import (
	"math"

	"leadmark/cmd/leadmark/report/phrase"
)

// Axis maps values to pixels.
type Axis struct{ Lo, Hi, P0, P1 float64 }

// At is the pixel of a value.
func (a Axis) At(v float64) float64 { return a.P0 + (v-a.Lo)/(a.Hi-a.Lo)*(a.P1-a.P0) }

// Ticks are round values 1, 2 or 5 times a power of ten apart, at most n of them.
func (a Axis) Ticks(n int) (values []float64, step float64) {
	step = NiceStep((a.Hi - a.Lo) / float64(n))
	for k := math.Ceil(a.Lo/step - 1e-9); k*step <= a.Hi+1e-9*step; k++ {
		values = append(values, k*step)
	}
	return values, step
}

// NiceStep is the round step, 1, 2 or 5 times a power of ten, that is raw or the next above.
func NiceStep(raw float64) float64 {
	if !(raw > 0) || math.IsInf(raw, 0) {
		return 1
	}
	p := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, m := range []float64{1, 2, 5} {
		if m*p >= raw*(1-1e-9) {
			return m * p
		}
	}
	return 10 * p
}

// Padded widens an axis by a share of its range; a range of zero gets some width.
func Padded(lo, hi, share float64) (float64, float64) {
	d := (hi - lo) * share
	if !(d > 0) {
		d = math.Max(math.Abs(hi)*0.1, 1e-3)
	}
	return lo - d, hi + d
}

// TickText prints a tick with the digits that its step needs.
func TickText(v, step float64) string {
	d := 0
	if step < 1 {
		d = int(math.Ceil(-math.Log10(step) - 1e-9))
	}
	return phrase.Digits(v, d)
}
