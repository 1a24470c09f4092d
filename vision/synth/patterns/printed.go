package patterns

import (
	"math"

	"leadmark/vision/synth/paint"
)

func barcode(c paint.Chance) pattern {
	seed, half := uint32(c.IntN(1000)), c.Span(4, 20)
	return func(x, y float64) float64 { // modules of a unit, bars of one to four
		if paint.Hash(int32(math.Floor(x)), 0, seed) > 0.5 && math.Abs(x) < 48 {
			return belt(y, half, 0, 1)
		}
		return 1
	}
}

// pageOfText has lines of letter-like strokes, a unit a stroke.
func pageOfText(c paint.Chance) pattern {
	high, lead, seed := c.Span(2, 4), c.Span(1.5, 2.4), uint32(c.IntN(1000))
	return func(x, y float64) float64 {
		line := math.Floor(y / (high * lead))
		v := y - line*high*lead
		letter := math.Floor(x / 1.9)
		u := x - letter*1.9
		h := paint.Hash(int32(letter), int32(line), seed)
		if v > high || h > 0.87 {
			return 1
		}
		short := 0.25 * high * math.Round(paint.Hash(int32(letter), int32(line), seed+1))
		if v < short {
			return 1
		}
		stroke := within(u, 0.15, 0.5) + within(u, 1.1, 1.45)*math.Round(h+0.2) +
			within(math.Abs(v-high*(0.55+0.4*h)), 0, 0.25)*within(u, 0.15, 1.45)
		return 1 - min(1, stroke)
	}
}

func books(c paint.Chance) pattern {
	seed := uint32(c.IntN(1000))
	return func(x, y float64) float64 {
		i := math.Floor(x)
		wide := 0.75 + 0.5*paint.Hash(int32(i), 1, seed)
		top := 5 + 3*paint.Hash(int32(i), 2, seed)
		if y < -top {
			return 0.05
		}
		if f := frac(x); f > wide || f < 0.05 {
			return 0.1
		}
		if math.Abs(frac(x)-0.4) < 0.12 && paint.Hash(int32(math.Floor(y*3)), int32(i), seed) > 0.4 {
			return 1
		}
		return 0.2 + 0.7*paint.Hash(int32(i), 3, seed)
	}
}

// calendar has days in sevens, a numeral-like blot in each.
func calendar(c paint.Chance) pattern {
	return func(x, y float64) float64 {
		if bar(x+0.5, 0.06) > 0 || bar(y+0.5, 0.06) > 0 {
			return 0.5
		}
		u, v := frac(x)-0.5, frac(y)-0.5
		if math.Hypot(u, v) < 0.22 && paint.Hash(int32(math.Floor(u*12)),
			int32(math.Floor(v*12))+int32(math.Floor(x))*13+int32(math.Floor(y))*101, 3) > 0.5 {
			return 0.1
		}
		return 0.95
	}
}

func ruledPaper(c paint.Chance) pattern {
	w, margin := c.Span(0.04, 0.12), c.Span(4, 12)
	return func(x, y float64) float64 {
		if bar(x, w) > 0 || math.Abs(y+margin) < 0.08 {
			return 0.4
		}
		return 0.95
	}
}

func grid(c paint.Chance) pattern {
	w, every := c.Span(0.06, 0.2), float64(4+c.IntN(7))
	bold := c.Span(1, 2.5)
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

// film has four (or eight, or one) perforations a frame.
func film(c paint.Chance) pattern {
	per := []float64{1, 4, 8}[c.IntN(3)]
	w := c.Span(0.4, 0.65)
	return func(x, y float64) float64 {
		switch a := math.Abs(y); {
		case a < 3*math.Sqrt(per):
			i := math.Floor(x / per)
			if f := frac(x/per) * per; f < 0.2 {
				return 0.05
			}
			return 0.2 + 0.6*math.Abs(paint.Cloud(x/2, y/2, 2, uint32(int(i)&7)))
		case a < 3*math.Sqrt(per)+1.6:
			return 0.05 + 0.95*bar(x, w)*within(a-3*math.Sqrt(per), 0.35, 1.25)
		}
		return 0.8
	}
}

func checks(c paint.Chance) pattern {
	return func(x, y float64) float64 {
		if (int(math.Floor(2*x))+int(math.Floor(2*y)))%2 == 0 {
			return 0.95
		}
		return 0.05
	}
}

func keyboard(c paint.Chance) pattern {
	shift, gap := c.Span(0.2, 0.5), c.Span(0.06, 0.2)
	return func(x, y float64) float64 {
		row := math.Floor(y)
		if math.Abs(row) > 3 {
			return 0.8
		}
		x += shift * row
		if row == 2 { // the long key
			if x > 1 && x < 6 {
				return within(frac(y), gap, 1-gap) * 0.3
			}
		}
		key := within(frac(x), gap/2, 1-gap/2) * within(frac(y), gap/2, 1-gap/2)
		u, v := frac(x)-0.35, frac(y)-0.35
		if key > 0 && math.Hypot(u, v) < 0.2 && paint.Hash(int32(u*14),
			int32(v*14)+int32(row)*17+int32(math.Floor(x))*31, 9) > 0.45 {
			return 0.95 // a letter
		}
		return 0.15 * key
	}
}

// pianoKeys has black keys in twos and threes, seven white ones an octave.
func pianoKeys(c paint.Chance) pattern {
	long := c.Span(5, 7)
	return func(x, y float64) float64 {
		if math.Abs(y) > long/2 {
			return 0.1
		}
		k := int(math.Mod(math.Mod(math.Floor(x+0.5), 7)+7, 7))
		if y < long/8 && k != 0 && k != 3 && math.Abs(frac(x+0.5)-0.5) < 0.3 {
			return 0
		}
		if f := frac(x); f < 0.04 || f > 0.96 {
			return 0.2
		}
		return 1
	}
}
