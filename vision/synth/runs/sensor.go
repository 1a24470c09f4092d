package runs

import (
	"math"
	"math/rand/v2"
	"sync"
)

// Sensor is what turns light into numbers.
type Sensor struct {
	FullWell float64 // electrons at linear value 1; 0 for no noise at all
	Read     float64 // electrons r.m.s.
	Vignette float64 // stops lost in the corner
}

// normals holds standard normal deviates to draw from quickly.
var normals = sync.OnceValue(func() []float32 {
	r := rand.New(rand.NewPCG(1, 2))
	t := make([]float32, 1<<16)
	for i := range t {
		t[i] = float32(r.NormFloat64())
	}
	return t
})

const toneSteps = 1 << 14

// tone is the sRGB transfer function (IEC 61966-2-1) as a table over linear 0 to 1, in 1/256 of a
// code value.
var tone = sync.OnceValue(func() []uint16 {
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

// noiser adds shot and read noise to linear values.
type noiser struct {
	table []float32
	state uint64
	gain  float32 // shot variance per unit of light
	read2 float32
	on    bool
}

func (s Sensor) noiser(seed uint64) *noiser {
	n := &noiser{table: normals(), state: seed*2862933555777941757 + 3037000493, on: s.FullWell > 0}
	if n.on {
		n.gain = float32(1 / s.FullWell)
		n.read2 = float32(s.Read * s.Read / (s.FullWell * s.FullWell))
	}
	return n
}

// add returns three values with noise of their own. One 64-bit draw (xorshift*, Marsaglia 2003)
// serves all three.
func (n *noiser) add(r, g, b float32) (float32, float32, float32) {
	if !n.on {
		return r, g, b
	}
	x := n.state
	x ^= x >> 12
	x ^= x << 25
	x ^= x >> 27
	n.state = x
	x *= 2685821657736338717
	sd := func(v float32) float32 {
		return float32(math.Sqrt(float64(max(0, v)*n.gain + n.read2)))
	}
	return r + sd(r)*n.table[x>>48], g + sd(g)*n.table[x>>32&0xffff], b + sd(b)*n.table[x>>16&0xffff]
}
