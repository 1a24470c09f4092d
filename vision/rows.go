package vision

import (
	"math"

	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// wholeBlocks is what the rows decoded are rounded up to, px: all levels then end on a whole pixel.
const wholeBlocks = 64

// rowsNeeded is how many rows of a picture, as it is stored, hold the ruler under a hint: a JPEG
// can only be decoded from its top, and most of the time goes into decoding at all. All rows are
// needed where nothing says where the ruler is, where slates may stand beside it, or where the
// raster's last row is not the foot or the right side as displayed.
func rowsNeeded(f frame.Frame, h ruler.Hint) int {
	if h.Near == nil || h.Slates {
		return f.StoredHeight
	}
	d := h.Near.Dir()
	var last float64
	switch reach := max(h.Within, h.Body); f.Orientation {
	case 1, 2: // stored rows are rows
		last = furthest(h.Near.A.Y, h.Near.A.X, d.Y/d.X, float64(f.Width)) + reach/math.Abs(d.X)
	case 5, 8: // stored rows are columns
		last = furthest(h.Near.A.X, h.Near.A.Y, d.X/d.Y, float64(f.Height)) + reach/math.Abs(d.Y)
	default:
		return f.StoredHeight
	}
	if !(last < float64(f.StoredHeight)) { // also where the ruler runs across the rows
		return f.StoredHeight
	}
	return min(f.StoredHeight, max(1, int(last)/wholeBlocks+1)*wholeBlocks)
}

// furthest is the largest of at + slope (x - from) for x between 0 and end.
func furthest(at, from, slope, end float64) float64 { return max(at-slope*from, at+slope*(end-from)) }

// reducedPitch is how many pixels a graduation must keep in a reduced picture.
const reducedPitch = 8

// reduction is the largest of 1, 2, 4 by which a picture can be reduced while it is decoded so that
// the graduations expected stay well resolved; 1 where none are expected.
func reduction(f frame.Frame, h ruler.Hint) int {
	denom := 1
	for denom < 4 && h.Pitch >= float64(2*denom)*reducedPitch && min(f.Width, f.Height) >= 256*denom {
		denom *= 2
	}
	return denom
}
