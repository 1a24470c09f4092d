package vision

import (
	"image"
	"math"
)

// Most JPEGs store the colour differences of 2 x 1 or 2 x 2 pixels as one (JFIF, 4:2:2 and 4:2:0), so that colour is less sharp than brightness. Where
// edges are measured by colour and brightness together, brightness is therefore blurred alike, and what that adds is taken off again.

// shareTaps is the mean of the two places that a pixel can have in its pair: the mean of two is stored, and 3/4 of the near and 1/4 of the far
// pair are taken when it is read (the triangle filter of libjpeg).
var shareTaps = [5]int{1, 4, 6, 4, 1}

// shareVariance is that of shareTaps, px^2.
const shareVariance = 1.0

// sharedBlur is the variance by direction of pixels that share their colours.
func sharedBlur(shared image.Point) (c tensor) {
	if shared.X > 1 {
		c.xx = shareVariance
	}
	if shared.Y > 1 {
		c.yy = shareVariance
	}
	return c
}

// levelled is the picture with its brightness as little sharp as its colours.
func (c *colour) levelled(shared image.Point) *colour {
	if shared.X <= 1 && shared.Y <= 1 {
		return c
	}
	luma := make([]int, c.w*c.h) // 1000 times (ITU-R BT.601, as JFIF has it)
	for i := range luma {
		luma[i] = 299*int(c.pix[3*i]) + 587*int(c.pix[3*i+1]) + 114*int(c.pix[3*i+2])
	}
	soft := luma
	if shared.X > 1 {
		soft = spread(soft, c.w, c.h, 1, c.w)
	}
	if shared.Y > 1 {
		soft = spread(soft, c.h, c.w, c.w, 1)
	}
	o := newColour(c.w, c.h)
	for i := range luma {
		d := int(math.Round(float64(soft[i]-luma[i]) / 1000))
		for k := range 3 {
			o.pix[3*i+k] = uint8(max(0, min(255, int(c.pix[3*i+k])+d)))
		}
	}
	return o
}

// spread blurs by shareTaps along lines of n values that are step apart; the lines begin line apart.
func spread(v []int, n, lines, step, line int) []int {
	out := make([]int, len(v))
	for k := range lines {
		for i := range n {
			sum := 0
			for t, w := range shareTaps {
				sum += w * v[k*line+step*max(0, min(n-1, i+t-2))]
			}
			out[k*line+step*i] = sum / 16
		}
	}
	return out
}
