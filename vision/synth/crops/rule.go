package crops

import (
	"fmt"
	"math"
)

// The rule of what is readable; the package's comment says it in words.
const (
	leastLight    = 0.008 // of white
	leastPitch    = 4     // px
	mostBlur      = 0.3   // of the pitch, standard deviation
	leastContrast = 0.05  // of the ruler's light
	leastSNR      = 10
	leastLong     = 5 // px, the shortest graduations
	leastCount    = 25
	leastRun      = 12 // side by side
	leastLongest  = 2
	endRoom       = 12 // px in the picture beyond the end
	endWidth      = 0.6
	endStep       = 0.15 // of the brighter side
	endSNR        = 8
	demosaicBlur  = 0.4 // px, standard deviation that mosaic and pixels add
)

// Comb is how graduations show about one of them, before blur.
type Comb struct {
	Pitch, Long float64 // px
	Blur        float64 // px, standard deviation along, of lens and sensor
	Motion      float64 // px that the ruler goes while it is lit
	Paper, Ink  float64 // light
	Line        float64 // share of the pitch that is ink
	Uneven      float64 // light, what shines through from behind
	Noise       float64 // of one pixel
}

// Counts says whether it can be told.
func (c Comb) Counts() bool {
	all := math.Hypot(c.Blur, c.Motion/math.Sqrt(12))
	if c.Pitch < leastPitch || c.Long < leastLong || all > mostBlur*c.Pitch {
		return false
	}
	// The comb's first harmonic, through a Gaussian and through an even movement.
	f, b, m := min(0.5, c.Line), c.Blur/c.Pitch, math.Pi*c.Motion/c.Pitch
	comb := 2 * math.Abs(c.Paper-c.Ink) * math.Sin(math.Pi*f) / math.Pi * math.Exp(-2*math.Pi*math.Pi*b*b)
	if m > 0 {
		comb *= max(0, math.Sin(m)/m)
	}
	return max(c.Paper, c.Ink) >= leastLight && comb >= leastContrast*c.Paper &&
		comb >= leastSNR*c.Noise/math.Sqrt(c.Long*c.Pitch/2) && comb >= 2*c.Uneven
}

// End is what lies on the two sides of an end, at places even over the ruler's width.
type End struct {
	In, Out    []float64 // light at those that are uncovered
	Of         int       // places in all
	Wide, Blur float64   // px
	Pitch      float64   // px
	Noise      func(light float64) float64
}

// Why says why the end cannot be read; "" where it can.
func (e End) Why() string {
	n := float64(len(e.In))
	if n < endWidth*float64(e.Of) {
		return "covered or at the border"
	}
	step, outside, bright := 0.0, 0.0, 0.0
	for i := range e.In {
		step, outside, bright = step+(e.In[i]-e.Out[i])/n, outside+e.Out[i]/n, max(bright, e.In[i], e.Out[i])
	}
	plain, uneven := 0, 0.0
	for i := range e.In {
		if v := e.In[i] - e.Out[i]; v*step > 0 && math.Abs(v) >= endStep*max(e.In[i], e.Out[i]) {
			plain++
		}
		uneven += (e.Out[i] - outside) * (e.Out[i] - outside) / n
	}
	switch {
	case float64(plain) < endWidth*float64(e.Of) || step*step < uneven:
		return "too like the backdrop"
	case bright < leastLight:
		return "dark"
	case math.Abs(step) < endSNR*e.Noise(bright)/math.Sqrt(e.Wide):
		return "too noisy"
	case e.Blur > mostBlur*e.Pitch:
		return "too blurred"
	}
	return ""
}

// Why says why a scale cannot be read of whose graduations, in order, these count, and of which
// these are of the longest; "" where it can.
func Why(counts, longest []bool) string {
	n, run, best, long := 0, 0, 0, 0
	for i, c := range counts {
		if run++; !c {
			run = 0
			continue
		}
		n, best = n+1, max(best, run)
		if longest[i] {
			long++
		}
	}
	switch {
	case n < leastCount:
		return fmt.Sprintf("%d graduations count", n)
	case best < leastRun:
		return fmt.Sprintf("%d graduations side by side", best)
	case long < leastLongest:
		return fmt.Sprintf("%d of the longest", long)
	}
	return ""
}
