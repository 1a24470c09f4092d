package camera

import (
	"image"
	"math"
)

// Camera is all that happens to light on its way into a file.
type Camera struct {
	Blur    Sigma
	Sensor  Sensor
	Mosaic  Mosaic
	Curve   float64 // how much steeper the middle tones are than sRGB's: 0 to 0.3
	Sharpen float64 // how much of what a blur takes away is added
	Radius  float64 // px, standard deviation of that blur
	Quality int     // of the JPEG
	Thin    Thin    // of its colours
}

// Noise is that of one pixel of so much light, as its standard deviation: the sensor's, and in
// light what compression does to code values.
func (c Camera) Noise(light float64) float64 {
	n := &c.Sensor
	codes := (0.5 + 0.06*float64(100-c.Quality)) / 255
	return math.Hypot(math.Sqrt(light*n.FullWell+n.Read*n.Read)/n.FullWell, codes*2.2*math.Pow(light, 0.545))
}

// Take takes a picture. The light is used up.
func (c Camera) Take(l *Light, seed uint64) *image.RGBA {
	l.Blur(c.Blur)
	if c.Mosaic == Whole {
		for k := range l.C {
			l.C[k] = c.Sensor.expose(l, func(int, int) int { return k }, seed+uint64(k)<<32)
		}
	} else {
		l = c.Mosaic.fill(c.Sensor.expose(l, bayer, seed), l.W, l.H)
	}
	c.tone(l)
	c.sharpen(l)
	return l.image()
}

// steps is how finely the tone curve is tabled.
const steps = 4096

// tone turns light into code values from 0 to 1: the curve of sRGB (IEC 61966-2-1) with the middle
// tones steepened by a cubic that leaves black, middle and white in place.
func (c Camera) tone(l *Light) {
	table := make([]float32, steps+2)
	for i := range table {
		v := min(1, float64(i)/steps)
		if v <= 0.0031308 {
			v *= 12.92
		} else {
			v = 1.055*math.Pow(v, 1/2.4) - 0.055
		}
		table[i] = float32(v + c.Curve*4*v*(1-v)*(v-0.5))
	}
	for k := range l.C {
		for i, v := range l.C[k] {
			t := min(1, max(0, v)) * steps
			n := int(t)
			l.C[k][i] = table[n] + (t-float32(n))*(table[n+1]-table[n])
		}
	}
}

// sharpen adds to all colours what a blur takes from the brightness.
func (c Camera) sharpen(l *Light) {
	if c.Sharpen == 0 {
		return
	}
	bright := make([]float32, l.W*l.H)
	for i := range bright {
		bright[i] = 0.299*l.C[0][i] + 0.587*l.C[1][i] + 0.114*l.C[2][i]
	}
	k := kernel(c.Radius)
	across := make([]float32, len(bright))
	for y := range l.H {
		smooth(across[y*l.W:(y+1)*l.W], bright[y*l.W:(y+1)*l.W], func(int) []float32 { return k })
	}
	line, much := make([]float32, l.W), float32(c.Sharpen)
	for y := range l.H {
		down(line, across, l.W, l.H, y, k)
		for x, soft := range line {
			i := y*l.W + x
			d := much * (bright[i] - soft)
			l.C[0][i] += d
			l.C[1][i] += d
			l.C[2][i] += d
		}
	}
}

// image rounds to code values.
func (l *Light) image() *image.RGBA {
	im := image.NewRGBA(image.Rect(0, 0, l.W, l.H))
	for i := range l.C[0] {
		p := im.Pix[4*i : 4*i+4]
		for k := range 3 {
			p[k] = uint8(min(255, max(0, 255*l.C[k][i]+0.5)))
		}
		p[3] = 255
	}
	return im
}
