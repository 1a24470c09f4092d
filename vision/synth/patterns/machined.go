package patterns

import (
	"math"

	"leadmark/vision/synth/paint"
)

func screwThread(c paint.Chance) pattern {
	half, slant := c.Span(3, 8), c.Span(0.1, 0.4)
	return func(x, y float64) float64 {
		edge := half + 0.35*math.Abs(2*frac(x+0.5*slant)-1)
		if math.Abs(y) > edge {
			return 0.1
		}
		shade := math.Sqrt(max(0, 1-y*y/(edge*edge)))
		return shade * (0.35 + 0.65*math.Abs(2*frac(x+slant*y/half)-1))
	}
}

func rack(c paint.Chance) pattern {
	deep := c.Span(0.5, 1)
	return func(x, y float64) float64 {
		tooth := max(0, min(1, 2.2*(math.Abs(2*frac(x)-1)-0.3)))
		if y < deep*tooth {
			return 0.6
		}
		return 0.15
	}
}

func sawBlade(c paint.Chance) pattern {
	deep := c.Span(0.5, 1.2)
	return func(x, y float64) float64 {
		if y < deep*frac(x) {
			return 0.55 + 0.1*paint.Noise(x/4, y*9, 3)
		}
		return 0.1
	}
}

func comb(c paint.Chance) pattern {
	w, long := c.Span(0.3, 0.6), c.Span(5, 14)
	half := math.Floor(c.Span(14, 40))
	coarse := c.Span(1.2, 2.2) // the other half has wider teeth
	return func(x, y float64) float64 {
		if math.Abs(x) > half {
			return 0.9
		}
		if y < 0 && y > -2.5 {
			return 0.1
		}
		if x > 0 {
			x /= coarse
		}
		if y >= 0 && y < long {
			return 0.9 - 0.8*bar(x, w)
		}
		return 0.9
	}
}

func radiator(c paint.Chance) pattern {
	w, half := c.Span(0.5, 0.8), c.Span(6, 14)
	return func(x, y float64) float64 {
		round := math.Pow(math.Abs(math.Sin(math.Pi*x)), w)
		if d := math.Abs(y) - half + 1; d > 0 {
			round *= max(0, 1-d*d)
		}
		return belt(y, half, 0.2+0.8*round, 0.5)
	}
}

// coolingFins are of two lengths by turns, or every third.
func coolingFins(c paint.Chance) pattern {
	w, long, n := c.Span(0.2, 0.5), c.Span(4, 9), float64(2+c.IntN(2))
	short := c.Span(0.5, 0.9)
	return func(x, y float64) float64 {
		h := long
		if math.Mod(math.Abs(math.Floor(x)), n) != 0 {
			h *= short
		}
		if y < 0 && y > -2 || y >= 0 && y < h && bar(x, w) > 0 {
			return 0.8
		}
		return 0.1
	}
}

func ledStrip(c paint.Chance) pattern {
	cut := float64(3 + 3*c.IntN(2))
	return func(x, y float64) float64 {
		if math.Abs(y) > 0.6 {
			return 0.2
		}
		f := frac(x) - 0.5
		if math.Abs(f) < 0.22 && math.Abs(y) < 0.25 {
			return 1
		}
		if u := math.Abs(math.Mod(x, cut)); u < 0.06 {
			return 0.1
		}
		return 0.55
	}
}

func pinHeader(c paint.Chance) pattern {
	rows := 1 + c.IntN(2)
	return func(x, y float64) float64 {
		if y > -0.5 && y < float64(rows)-0.5 {
			if math.Hypot(frac(x)-0.5, frac(y+0.5)-0.5) < 0.2 {
				return 1
			}
			return 0.05
		}
		if y > -4 && y < -0.5 && bar(x, 0.25) > 0 {
			return 0.85
		}
		return 0.3
	}
}

func grille(c paint.Chance) pattern {
	w, half := c.Span(0.3, 0.6), c.Span(3, 8)
	mid := c.Span(0, 1)
	return func(x, y float64) float64 {
		if math.Abs(y) > half || math.Abs(y) < 0.4*mid {
			return 0.6
		}
		return 0.6 - 0.55*bar(x, w)
	}
}

func perforated(c paint.Chance) pattern {
	r := c.Span(0.2, 0.4)
	return func(x, y float64) float64 {
		if math.Hypot(frac(x)-0.5, frac(y)-0.5) < r {
			return 0.05
		}
		return 0.7
	}
}
