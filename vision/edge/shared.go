package edge

import "image"

// Most JPEGs store the colour differences of 2 x 1 or 2 x 2 pixels as one (JFIF, 4:2:2 and 4:2:0),
// so that colour is less sharp than brightness. Where edges are measured by colour and brightness
// together, brightness is therefore blurred alike (planes.c), by the mean of the two places that a
// pixel can have in its pair: the mean of two is stored, and 3/4 of the near and 1/4 of the far
// pair are taken when it is read. What that adds is taken off again.

// shareVariance is that of the weights 1 4 6 4 1, px^2.
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
