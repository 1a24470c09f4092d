package runs

import "math"

func spiralBinding(c chance) pattern {
	w := c.span(0.15, 0.35)
	return func(x, y float64) float64 {
		switch {
		case y < -1.6:
			return 0.35
		case math.Abs(y) < 1.6 && bar(x+0.1*y, w) > 0:
			return 0.1
		case y > 0.6 && math.Abs(y-1.3) < 0.35 && bar(x, 0.6) > 0:
			return 0.2
		case y > 0.6:
			return 0.95
		}
		return 0.35
	}
}

func stitches(c chance) pattern {
	w, rows := c.span(0.55, 0.8), 1+c.IntN(3)
	return func(x, y float64) float64 {
		for k := range rows {
			if math.Abs(y-float64(k)) < 0.12 && bar(x+0.3*float64(k), w) > 0 {
				return 1
			}
		}
		return 0.35 + 0.1*math.Sin(25*x)*math.Sin(25*y)
	}
}

func sawBlade(c chance) pattern {
	deep := c.span(0.5, 1.2)
	return func(x, y float64) float64 {
		if y < deep*frac(x) {
			return 0.55 + 0.1*noise(x/4, y*9, 3)
		}
		return 0.1
	}
}

func rack(c chance) pattern {
	deep := c.span(0.5, 1)
	return func(x, y float64) float64 {
		tooth := max(0, min(1, 2.2*(math.Abs(2*frac(x)-1)-0.3)))
		if y < deep*tooth {
			return 0.6
		}
		return 0.15
	}
}

func books(c chance) pattern {
	seed := uint32(c.IntN(1000))
	return func(x, y float64) float64 {
		i := math.Floor(x)
		wide := 0.75 + 0.5*hash(int32(i), 1, seed)
		top := 5 + 3*hash(int32(i), 2, seed)
		if y < -top {
			return 0.05
		}
		if f := frac(x); f > wide || f < 0.05 {
			return 0.1
		}
		if math.Abs(frac(x)-0.4) < 0.12 && hash(int32(math.Floor(y*3)), int32(i), seed) > 0.4 {
			return 1
		}
		return 0.2 + 0.7*hash(int32(i), 3, seed)
	}
}

func grid(c chance) pattern {
	w, every := c.span(0.06, 0.2), float64(4+c.IntN(7))
	bold := c.span(1, 2.5)
	return func(x, y float64) float64 {
		line := func(v float64) bool {
			k := math.Round(v)
			ww := w
			if math.Mod(math.Abs(k), every) == 0 {
				ww *= bold
			}
			return math.Abs(v-k) < ww/2
		}
		if line(x) || line(y) {
			return 0.2
		}
		return 0.9
	}
}

func perforated(c chance) pattern {
	r := c.span(0.2, 0.4)
	return func(x, y float64) float64 {
		if math.Hypot(frac(x)-0.5, frac(y)-0.5) < r {
			return 0.05
		}
		return 0.7
	}
}

func ruledPaper(c chance) pattern {
	w, margin := c.span(0.04, 0.12), c.span(4, 12)
	return func(x, y float64) float64 {
		if bar(x, w) > 0 || math.Abs(y+margin) < 0.08 {
			return 0.4
		}
		return 0.95
	}
}

// coolingFins are of two lengths by turns, or every third.
func coolingFins(c chance) pattern {
	w, long, n := c.span(0.2, 0.5), c.span(4, 9), float64(2+c.IntN(2))
	short := c.span(0.5, 0.9)
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

func sleepers(c chance) pattern {
	w, half := c.span(0.3, 0.5), c.span(1.5, 3)
	return func(x, y float64) float64 {
		if math.Abs(math.Abs(y)-0.6*half) < 0.12 {
			return 0.95
		}
		if math.Abs(y) < half && bar(x, w) > 0 {
			return 0.55 + 0.1*noise(x, y*8, 2)
		}
		return 0.25 + 0.2*cloud(x*2, y*2, 3, 5)
	}
}

func pinHeader(c chance) pattern {
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

// picketPosts has a thicker, taller post at every so many pickets: none of a ruler's fives or halves.
func picketPosts(c chance) pattern {
	every, w := float64([]int{3, 6, 7, 9, 11, 12}[c.IntN(6)]), c.span(0.2, 0.5)
	tall, more := c.span(4, 9), c.span(1.1, 1.5)
	return func(x, y float64) float64 {
		i, h := math.Floor(x), tall
		if math.Mod(math.Abs(i), every) == 0 {
			h *= more
		}
		if y > -h && y < 2 && bar(x, w) > 0 || math.Abs(y) < 0.25 {
			return 0.85
		}
		return 0.15
	}
}

func rope(c chance) pattern {
	slant := c.span(0.3, 0.8)
	return func(x, y float64) float64 {
		if math.Abs(y) > 1.2 {
			return 0.1
		}
		return (0.3 + 0.7*math.Abs(math.Sin(math.Pi*(x+slant*y)))) * math.Sqrt(1-y*y/1.5)
	}
}

// calendar has days in sevens, a numeral-like blot in each.
func calendar(c chance) pattern {
	return func(x, y float64) float64 {
		if bar(x+0.5, 0.06) > 0 || bar(y+0.5, 0.06) > 0 {
			return 0.5
		}
		u, v := frac(x)-0.5, frac(y)-0.5
		if math.Hypot(u, v) < 0.22 && hash(int32(math.Floor(u*12)),
			int32(math.Floor(v*12))+int32(math.Floor(x))*13+int32(math.Floor(y))*101, 3) > 0.5 {
			return 0.1
		}
		return 0.95
	}
}

func grille(c chance) pattern {
	w, half := c.span(0.3, 0.6), c.span(3, 8)
	mid := c.span(0, 1)
	return func(x, y float64) float64 {
		if math.Abs(y) > half || math.Abs(y) < 0.4*mid {
			return 0.6
		}
		return 0.6 - 0.55*bar(x, w)
	}
}
