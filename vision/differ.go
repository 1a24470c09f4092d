package vision

import (
	"math"
)

// How an animal is told from the set. Tones are in code values.
const (
	leastTones    = 7.0  // of a pixel's mean over 3 x 3, whatever the noise
	sureSigmas    = 6.0  // standard deviations of such a mean
	deepestShadow = 0.42 // share of the light that a shadow leaves at least
	shadowSlope   = 0.05 // of a shadow's log light from pixel to pixel, at most: its source is wide and the backdrop far
	alikeTones    = 25.0 // a difference that is safe to cut along
)

// difference is how a picture differs from the set, by pixel of the reduced picture.
type difference struct {
	w, h  int
	pic   *colour
	back  *colour   // the set in this picture's light
	d     []float32 // tones, root of the sum of three squares of the means over 3 x 3
	sigma float64   // of d where nothing is
	mask  []uint8   // 255 where something is
}

// differ compares a reduced picture with the set.
func differ(pic, back *colour) *difference {
	lit := newColour(back.w, back.h)
	t := toneTables(gains(back, pic))
	for i, v := range back.pix {
		lit.pix[i] = t[i%3][v]
	}
	f := &difference{w: pic.w, h: pic.h, pic: pic, back: lit, d: make([]float32, pic.w*pic.h)}
	diff := make([]float32, 3*f.w*f.h)
	for i := range diff {
		diff[i] = float32(pic.pix[i]) - float32(lit.pix[i])
	}
	mean := boxed(diff, f.w, f.h)
	var list []float64
	step := 1 + len(f.d)/20000
	for i := range f.d {
		a, b, c := mean[3*i], mean[3*i+1], mean[3*i+2]
		f.d[i] = float32(math.Sqrt(float64(a*a + b*b + c*c)))
		if i%step == 0 {
			list = append(list, float64(f.d[i]))
		}
	}
	f.sigma = median(list)
	f.threshold(mean)
	return f
}

// boxed is the mean over 3 x 3 pixels of three channels; at the rim over fewer.
func boxed(v []float32, w, h int) []float32 {
	tmp, out := make([]float32, len(v)), make([]float32, len(v))
	for y := range h {
		row, to := v[3*w*y:][:3*w], tmp[3*w*y:][:3*w]
		for i := range row {
			a, b := row[max(i-3, i%3)], row[min(i+3, 3*(w-1)+i%3)]
			to[i] = (a + row[i] + b) / 3
		}
	}
	for y := range h {
		a, b, c := tmp[3*w*max(0, y-1):][:3*w], tmp[3*w*y:][:3*w], tmp[3*w*min(h-1, y+1):][:3*w]
		to := out[3*w*y:][:3*w]
		for i := range to {
			to[i] = (a[i] + b[i] + c[i]) / 3
		}
	}
	return out
}

// threshold marks the pixels that differ by more than noise and are no shadow.
func (f *difference) threshold(mean []float32) {
	f.mask = make([]uint8, f.w*f.h)
	// The median of the root of three squares is about 1.5 standard deviations of one (chi, 3 degrees of freedom: 1.538).
	least := float32(max(leastTones, sureSigmas*f.sigma/1.538*1.5))
	shade := f.shades(mean)
	for i, d := range f.d {
		if d > least && !f.isShadow(shade, mean, i) {
			f.mask[i] = 255
		}
	}
}

// shades is the log of the light that is left at each pixel, by the channels that have most of it.
func (f *difference) shades(mean []float32) []float32 {
	s := make([]float32, f.w*f.h)
	table := lights()
	for i := range s {
		var a, b float64
		for k := range 3 {
			v := float64(f.back.pix[3*i+k])
			b += table[f.back.pix[3*i+k]]
			a += linear(max(0, min(255, v+float64(mean[3*i+k]))))
		}
		s[i] = float32(math.Log((a + 1e-4) / (b + 1e-4)))
	}
	return s
}

// isShadow tells whether a pixel looks like the backdrop in less light: all channels dimmed alike, by no more than a shadow
// dims, and without a sharp edge nearby.
func (f *difference) isShadow(shade, mean []float32, i int) bool {
	left := math.Exp(float64(shade[i]))
	if left > 1.02 || left < deepestShadow {
		return false
	}
	off := 0.0
	for k := range 3 {
		b := f.back.pix[3*i+k]
		want := float64(toneOf(light[b] * left))
		got := float64(b) + float64(mean[3*i+k])
		off += (got - want) * (got - want)
	}
	if math.Sqrt(off) > max(5, 4*f.sigma) {
		return false
	}
	x, y := i%f.w, i/f.w
	if x < 2 || y < 2 || x >= f.w-2 || y >= f.h-2 {
		return true
	}
	gx, gy := float64(shade[i+2]-shade[i-2])/4, float64(shade[i+2*f.w]-shade[i-2*f.w])/4
	return math.Hypot(gx, gy) < shadowSlope
}
