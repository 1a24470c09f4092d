package subject

import (
	"math"

	"leadmark/fit/stat"
	"leadmark/vision/pixel"
)

// How an animal is told from the set. Tones are in code values.
const (
	leastTones    = 7.0  // of a pixel's mean over 3 x 3, whatever the noise
	sureSigmas    = 6.0  // standard deviations of such a mean
	deepestShadow = 0.42 // share of the light that a shadow leaves at least
	// of a shadow's log light from pixel to pixel, at most: its source is wide and the backdrop far
	shadowSlope = 0.05
	alikeTones  = 25.0 // a difference that is safe to cut along
)

// difference is how a picture differs from the set, by pixel of the reduced picture.
type difference struct {
	library pixel.Library
	w, h    int
	pic     *pixel.Colour
	back    *pixel.Colour // the set in this picture's light
	sums    []int16       // of the differences of 3 x 3 pixels, by channel
	sigma   float64       // tones, of a pixel's d where nothing is
	mask    []uint8       // 255 where something is
}

// newDifference has room for pictures of a size; it may be used for one after the other.
func newDifference(l pixel.Library, w, h int) *difference {
	return &difference{
		library: l, w: w, h: h,
		back: pixel.NewColour(w, h), sums: make([]int16, 3*w*h), mask: make([]uint8, w*h),
	}
}

// compare compares a reduced picture with the set.
func (f *difference) compare(pic, back *pixel.Colour) {
	f.pic = pic
	t := toneTables(gains(back, pic))
	for i := 0; i+2 < len(back.Pix); i += 3 {
		from, to := back.Pix[i:i+3:i+3], f.back.Pix[i:i+3:i+3]
		to[0], to[1], to[2] = t[0][from[0]], t[1][from[1]], t[2][from[2]]
	}
	f.library.Differences(f.pic, f.back, f.sums)
	var list []float64
	for i := 0; i < f.w*f.h; i += 1 + f.w*f.h/20000 {
		list = append(list, float64(f.d(i)))
	}
	f.sigma = stat.Median(list)
	f.threshold()
}

// square is 81 times the square of d.
func (f *difference) square(i int) int32 {
	s := f.sums[3*i : 3*i+3 : 3*i+3]
	a, b, c := int32(s[0]), int32(s[1]), int32(s[2])
	return a*a + b*b + c*c
}

// d is how much pixel i differs, tones: the root of the sum of the squares of the three channels'
// means over 3 x 3.
func (f *difference) d(i int) float32 { return float32(math.Sqrt(float64(f.square(i)))) / 9 }

// threshold marks the pixels that differ by more than noise and are no shadow.
func (f *difference) threshold() {
	// The median of the root of three squares is about 1.5 standard deviations of one (chi, 3
	// degrees of freedom: 1.538).
	least := max(leastTones, sureSigmas*f.sigma/1.538*1.5)
	square := int32(81 * least * least)
	clear(f.mask)
	for i := range f.mask {
		if f.square(i) > square && !f.isShadow(i) {
			f.mask[i] = 255
		}
	}
}

// left is the share of the set's light that is left at a pixel, of all channels together.
func (f *difference) left(i int) float64 {
	var a, b float64
	for k := range 3 {
		v := f.back.Pix[3*i+k]
		b += pixel.Light(v)
		a += pixel.Linear(max(0, min(255, float64(v)+float64(f.sums[3*i+k])/9)))
	}
	return (a + 1e-4) / (b + 1e-4)
}

// isShadow tells whether a pixel looks like the backdrop in less light: all channels dimmed alike,
// by no more than a shadow dims, and without a sharp edge nearby.
func (f *difference) isShadow(i int) bool {
	left := f.left(i)
	if left > 1.02 || left < deepestShadow {
		return false
	}
	off := 0.0
	for k := range 3 {
		b := f.back.Pix[3*i+k]
		d := float64(b) + float64(f.sums[3*i+k])/9 - float64(pixel.Tone(pixel.Light(b)*left))
		off += d * d
	}
	if math.Sqrt(off) > max(5, 4*f.sigma) {
		return false
	}
	x, y := i%f.w, i/f.w
	if x < 2 || y < 2 || x >= f.w-2 || y >= f.h-2 {
		return true
	}
	gx, gy := math.Log(f.left(i+2)/f.left(i-2))/4, math.Log(f.left(i+2*f.w)/f.left(i-2*f.w))/4
	return math.Hypot(gx, gy) < shadowSlope
}
