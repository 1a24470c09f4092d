package paint

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

// Code returns the 8-bit value of linear light x.
func Code(t []uint16, x float32) uint8 {
	i := int(x*toneSteps + 0.5)
	if i <= 0 {
		return 0
	}
	if i >= toneSteps {
		return 255
	}
	return uint8((int(t[i]) + 128) >> 8)
}

// CodeValue is the code value of linear light, before rounding.
func CodeValue(x float64) float64 {
	t := Tone()
	i := max(0, min(toneSteps, int(x*toneSteps+0.5)))
	return float64(t[i]) / 256
}

// Tone is the sRGB transfer function (IEC 61966-2-1) as a table over linear 0 to 1, in 1/256 of a
// code value.
func Tone() []uint16 { return toneTable() }
