package pixel

import "math"

// light[v] is the light that tone v (0 to 255) stands for, 0 to 1, by the sRGB curve (IEC
// 61966-2-1). A blurred edge lies where the light, not the tone, is midway; cameras' own curves
// differ somewhat from sRGB's.
var light = func() (table [257]float64) { // never changed
	for i := range table {
		if v := float64(i) / 255; v <= 0.04045 {
			table[i] = v / 12.92
		} else {
			table[i] = math.Pow((v+0.055)/1.055, 2.4)
		}
	}
	return table
}()

// Light is the light that a tone stands for, 0 to 1.
func Light(tone uint8) float64 { return light[tone] }

// Linear turns a tone into light, between whole tones along a straight line: the curve bends by
// less than 1e-5 over one.
func Linear(tone float64) float64 {
	if !(tone >= 0 && tone <= 255) {
		return math.NaN()
	}
	i := int(tone)
	return light[i] + (tone-float64(i))*(light[i+1]-light[i])
}

// Tone is the sRGB tone of light 0 to 1 (IEC 61966-2-1).
func Tone(x float64) uint8 {
	y := 12.92 * x
	if x > 0.0031308 {
		y = 1.055*math.Pow(x, 1/2.4) - 0.055
	}
	return uint8(math.Round(255 * max(0, min(1, y))))
}
