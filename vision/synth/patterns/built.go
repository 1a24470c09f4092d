package patterns

import (
	"math"

	"leadmark/vision/synth/paint"
)

func fence(c paint.Chance) pattern {
	w, top, jit := c.Span(0.4, 0.85), c.Span(3, 12), c.Span(0, 0.06)
	return func(x, y float64) float64 {
		i := math.Floor(x)
		h := top * (1 + jit*(paint.Hash(int32(i), 0, 3)-0.5))
		peak := h - 0.8*math.Abs(frac(x)-0.5)
		if -y < peak && bar(x+jit*paint.Hash(int32(i), 1, 3), w) > 0 || math.Abs(y-1) < 0.3 {
			return 0.75 + 0.25*paint.Hash(int32(i), 2, 3)
		}
		return 0.1
	}
}

func ladder(c paint.Chance) pattern {
	half, thick := c.Span(1.2, 3), c.Span(0.1, 0.25)
	return func(x, y float64) float64 {
		if math.Abs(math.Abs(y)-half) < 0.2 || math.Abs(y) < half && bar(x, thick) > 0 {
			return 0.9
		}
		return 0.3 + 0.2*paint.Cloud(x/3, y/3, 3, 8)
	}
}

func bricks(c paint.Chance) pattern {
	long, joint := c.Span(1.8, 3.5), c.Span(0.08, 0.2)
	return func(x, y float64) float64 {
		course := math.Floor(y)
		u := x/long + 0.5*math.Mod(math.Abs(course), 2)
		if frac(y) < joint || frac(u)*long < joint {
			return 0.9
		}
		return 0.25 + 0.3*paint.Hash(int32(math.Floor(u)), int32(course), 4)
	}
}

func dentils(c paint.Chance) pattern {
	w, high := c.Span(0.4, 0.7), c.Span(1, 3)
	return func(x, y float64) float64 {
		switch {
		case y < -high/2-1.5 || y > high/2+2:
			return 0.55
		case y < -high/2:
			return 0.9
		case y < high/2:
			if bar(x, w) > 0 {
				return 0.8
			}
			return 0.2
		}
		return 0.65
	}
}

func blinds(c paint.Chance) pattern {
	lit := c.Span(0.3, 0.8)
	cord := c.Span(15, 40)
	return func(x, y float64) float64 {
		v := 0.25 + 0.75*math.Pow(frac(x), lit)
		if math.Abs(math.Mod(y, cord)) < 0.25 {
			return 0.1
		}
		return v
	}
}

func sleepers(c paint.Chance) pattern {
	w, half := c.Span(0.3, 0.5), c.Span(1.5, 3)
	return func(x, y float64) float64 {
		if math.Abs(math.Abs(y)-0.6*half) < 0.12 {
			return 0.95
		}
		if math.Abs(y) < half && bar(x, w) > 0 {
			return 0.55 + 0.1*paint.Noise(x, y*8, 2)
		}
		return 0.25 + 0.2*paint.Cloud(x*2, y*2, 3, 5)
	}
}

// picketPosts has a thicker, taller post at every so many pickets: none of a ruler's fives or halves.
func picketPosts(c paint.Chance) pattern {
	every, w := float64([]int{3, 6, 7, 9, 11, 12}[c.IntN(6)]), c.Span(0.2, 0.5)
	tall, more := c.Span(4, 9), c.Span(1.1, 1.5)
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

func chainLink(c paint.Chance) pattern {
	w := c.Span(0.08, 0.2)
	return func(x, y float64) float64 {
		if bar(x+y, w) > 0 || bar(x-y, w) > 0 {
			return 0.9
		}
		return 0.25 + 0.2*paint.Cloud(x/2, y/2, 3, 9)
	}
}
