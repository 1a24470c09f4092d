package photo

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
