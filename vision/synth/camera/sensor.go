package camera

import (
	"math"
	"math/rand/v2"
)

// Sensor is how light is taken in.
type Sensor struct {
	FullWell float64    // electrons at white
	Read     float64    // electrons, standard deviation
	Gains    [3]float64 // how much of its light each colour's pixels take in; zero: all
	Vignette float64    // share of the light that is lost at Reach px from the lens's axis
	Reach    float64
	AxisX    float64 // px
	AxisY    float64
}

// noises are so many normal deviates, read from chance places on: a picture has more pixels.
const noises = 1 << 16

// expose adds the sensor's noise to what each pixel takes in; colour tells which one it has.
func (s Sensor) expose(l *Light, colour func(x, y int) int, seed uint64) []float32 {
	rnd := rand.New(rand.NewPCG(seed, 0x5e))
	deviates := make([]float32, noises)
	for i := range deviates {
		deviates[i] = float32(rnd.NormFloat64())
	}
	var gain [3]float32
	for k, g := range s.Gains {
		if g == 0 {
			g = 1
		}
		gain[k] = float32(g)
	}
	well, read := float32(s.FullWell), float32(s.Read)
	out := make([]float32, l.W*l.H)
	for y := range l.H {
		at := rnd.IntN(noises)
		for x := range l.W {
			k := colour(x, y)
			i := y*l.W + x
			e := l.C[k][i] * s.Lit(x, y) * well * gain[k]
			e += deviates[at] * float32(math.Sqrt(float64(max(0, e)+read*read)))
			if at++; at == noises {
				at = 0
			}
			out[i] = min(1, max(0, e/(well*gain[k])))
		}
	}
	return out
}

// Lit is the share of light that the lens lets through, falling with the square of the distance.
func (s Sensor) Lit(x, y int) float32 {
	if s.Vignette == 0 {
		return 1
	}
	dx, dy := (float64(x)-s.AxisX)/s.Reach, (float64(y)-s.AxisY)/s.Reach
	return float32(max(0, 1-s.Vignette*(dx*dx+dy*dy)))
}

// bayer is the colour of a pixel of a mosaic that begins with red: RGGB.
func bayer(x, y int) int {
	if x&1 == y&1 {
		return 2 * (x & 1)
	}
	return 1
}
