package patterns

import (
	"image"
	"math"
	"math/rand/v2"

	"leadmark/vision/synth/paint"
)

// At poses one of the patterns: 3 to 60 px a period, turned and leaning by chance, sharp or
// soft, in light that falls off, with noise.
func At(kind string, seed, number uint64) View {
	c := paint.NewChance(rand.New(rand.NewPCG(seed, number<<16)))
	w, h := 700+c.IntN(500), 500+c.IntN(400)
	v := View{Kind: kind, w: w, h: h, Pitch: c.Scale(4, 60), turn: c.Span(-0.3, 0.3), soft: c.Scale(0.5, 2.5),
		light: c.Span(0, 1.5), noise: c.Scale(0.6, 6), persp: c.Span(-0.25, 0.25), seed: uint32(c.Uint32())}
	if c.IntN(2) == 0 {
		v.turn += math.Pi / 2
	}
	v.low, v.high = c.Span(0.01, 0.15), c.Span(0.3, 0.85)
	if c.IntN(3) == 0 {
		v.low, v.high = v.high, v.low
	}
	v.f = patterns()[kind](c)
	return v
}

// View is how a pattern is looked at.
type View struct {
	Kind        string
	w, h        int
	Pitch       float64 // px of one unit of the pattern
	turn, persp float64
	soft, light float64 // px; stops from side to side
	noise       float64 // code values
	low, high   float64 // linear tones of 0 and 1
	seed        uint32
	f           pattern
}

// Draw renders the pattern.
func (v View) Draw() *image.RGBA {
	l := paint.NewLayer(image.Rect(0, 0, v.w, v.h))
	sin, cos := math.Sincos(v.turn)
	for y := range v.h {
		row := l.Row(y)
		for x := range v.w {
			var sum float64
			const n = 3
			for k := range n * n {
				px := (float64(x-v.w/2) + (float64(k%n)+0.5)/n - 0.5) / v.Pitch
				py := (float64(y-v.h/2) + (float64(k/n)+0.5)/n - 0.5) / v.Pitch
				d := 1 + v.persp*(cos*px+sin*py)*v.Pitch/float64(v.w)
				sum += v.f((cos*px+sin*py)/d, (cos*py-sin*px)/d)
			}
			t := sum / (n * n)
			t *= 1 + 0.06*paint.Cloud(float64(x)/60, float64(y)/60, 3, v.seed)
			a := float32(v.low + (v.high-v.low)*t)
			row[4*x], row[4*x+1], row[4*x+2], row[4*x+3] = a, a, a, 1
		}
	}
	l.Gaussian(v.soft)
	return v.develop(l)
}

func (v View) develop(l *paint.Layer) *image.RGBA {
	im := image.NewRGBA(l.Rect)
	rnd := rand.New(rand.NewPCG(uint64(v.seed), 5))
	for y := range v.h {
		row := l.Row(y)
		for x := range v.w {
			k := math.Exp2(-v.light * float64(x) / float64(v.w))
			g := paint.CodeValue(float64(row[4*x])*k) + v.noise*rnd.NormFloat64()
			c := uint8(max(0, min(255, math.Round(g))))
			o := im.Pix[y*im.Stride+4*x:][:4]
			o[0], o[1], o[2], o[3] = c, c, c, 255
		}
	}
	return im
}
