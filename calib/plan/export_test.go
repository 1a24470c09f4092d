package plan

// What the tests of the outside look into.

// Lab is a colour in CIE 1976.
func Lab(c RGB) [3]float64 { return lab(c) }

// MagnificationAt is the magnification at a distance from the sensor.
func MagnificationAt(focal, d float64) (float64, bool) { return magnificationAt(focal, d) }
