package runs

import (
	"math"
	"sync"
)

// toneTable is worked out once.
var toneTable = sync.OnceValue(func() []uint16 {
	t := make([]uint16, toneSteps+1)
	for i := range t {
		x := float64(i) / toneSteps
		y := 12.92 * x
		if x > 0.0031308 {
			y = 1.055*math.Pow(x, 1/2.4) - 0.055
		}
		t[i] = uint16(math.Round(y * 255 * 256))
	}
	return t
})

const toneSteps = 1 << 14

// code returns the 8-bit value of linear light x.
func code(t []uint16, x float32) uint8 {
	i := int(x*toneSteps + 0.5)
	if i <= 0 {
		return 0
	}
	if i >= toneSteps {
		return 255
	}
	return uint8((int(t[i]) + 128) >> 8)
}

// code255 is the code value of linear light, before rounding.
func code255(x float64) float64 {
	t := tone()
	i := max(0, min(toneSteps, int(x*toneSteps+0.5)))
	return float64(t[i]) / 256
}

// tone is the sRGB transfer function (IEC 61966-2-1) as a table over linear 0 to 1, in 1/256 of a
// code value.
func tone() []uint16 { return toneTable() }
