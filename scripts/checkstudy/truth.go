package main

import (
	"math"

	"leadmark/vision/synth/animals"
)

// What a frame is, is decided by its drawing, before anything has looked at it, in numbers of this
// study's own, after what docs/check.md promises.

// blurs are what blurs a drawn animal's edges.
type blurs struct {
	sigma  float64 // px, standard deviation of the Gaussian
	motion float64 // px, the way moved while the flash is above a tenth of its peak
	across bool    // the way lies nearer across the travel, which is to the right, than along it
}

// drawnSquare and movedSquare are what drawing itself blurs, px^2: three samples a pixel stand a
// third apart, which has a variance of 2/27, and what is moved by parts of pixels is laid on the
// nearest by shares, a (1 - a) for a part a, 1/6 in the mean.
const (
	drawnSquare = 2.0 / 27
	movedSquare = 1.0 / 6
	leastDrawn  = 0.45 // px: the standard deviation that animals.Render blurs by at the least
)

func blursOf(a animals.Animal) blurs {
	square := math.Pow(max(a.Defocus, leastDrawn), 2) + drawnSquare
	if a.Tail > 0 {
		square += movedSquare
	}
	// exp(-x/tail) is a tenth at x = tail ln 10.
	return blurs{math.Sqrt(square), 2.302585 * a.Tail, math.Abs(math.Cos(a.Way)) < math.Abs(math.Sin(a.Way))}
}

// width is from 10 to 90 % of an edge that the Gaussian blurs, px: the standard normal's 90 %
// quantile is 1.28155.
func (b blurs) width() float64 { return 2 * 1.28155 * b.sigma }

// total is both blurs together, px.
func (b blurs) total() float64 { return math.Sqrt(b.width()*b.width() + b.motion*b.motion) }

// sharpest is the largest blur that counts as sharp on a picture so many pixels long: 0.2 mm on a
// print 250 mm long, and 3 px at the least.
func sharpest(long int) float64 { return max(3, 0.2*float64(long)/250) }

// cause is why a frame is not sharp, as shoot.json has it; "" where it is.
func (b blurs) cause(long int) string {
	switch {
	case b.total() <= sharpest(long):
		return ""
	case b.width() >= b.motion:
		return "focus"
	case b.across:
		return "shake"
	}
	return "motion"
}

// sidesOf are the sides of the picture that cut an animal.
func sidesOf(t animals.Truth, w, h int) map[string]bool {
	cut := map[string]bool{}
	for side, is := range map[string]bool{"left": t.Box[0] <= 0, "right": t.Box[1] >= float64(w-1),
		"top": t.Box[2] <= 0, "bottom": t.Box[3] >= float64(h-1)} {
		if is {
			cut[side] = true
		}
	}
	return cut
}

// leastSeen is the share of a body's length squared, about a tenth of the animal, below which what
// is in the picture is no animal.
const leastSeen = 0.025

func isAnimal(t animals.Truth, length float64) bool {
	return float64(t.Area) >= leastSeen*length*length
}
