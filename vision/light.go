package vision

import "math"

// light[v] is the light that tone v (0 to 255) stands for, 0 to 1, by the sRGB curve (IEC 61966-2-1). A
// blurred edge lies where the light, not the tone, is midway; cameras' own curves differ somewhat from sRGB's.
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

// linear turns a tone into light, between whole tones along a straight line: the curve bends by less than 1e-5
// over one.
func linear(tone float64) float64 {
	if !(tone >= 0 && tone <= 255) {
		return math.NaN()
	}
	i := int(tone)
	return light[i] + (tone-float64(i))*(light[i+1]-light[i])
}
