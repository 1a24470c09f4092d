package patterns

import (
	"math"

	"leadmark/vision/synth/paint"
)

func fabric(c paint.Chance) pattern {
	k := c.Span(0.7, 1.4)
	return func(x, y float64) float64 {
		return 0.5 + 0.3*math.Sin(2*math.Pi*x)*math.Sin(2*math.Pi*k*y) + 0.2*paint.Noise(x*2, y*0.4, 5)
	}
}

func corduroy(c paint.Chance) pattern {
	deep := c.Span(0.3, 0.8)
	return func(x, y float64) float64 {
		x += 0.15 * paint.Noise(x/9, y/30, 6)
		return 1 - deep*math.Pow(math.Abs(math.Cos(math.Pi*x)), 3) + 0.2*paint.Noise(x*3, y*3, 2) - 0.1
	}
}

func zip(c paint.Chance) pattern {
	w := c.Span(0.4, 0.6)
	return func(x, y float64) float64 {
		side := math.Copysign(1, y)
		if math.Abs(y) < 1.2 {
			return bar(x+0.25*side, w)*0.9 + 0.05
		}
		return 0.3 + 0.05*math.Sin(20*x)*math.Sin(20*y) + 0.2*within(math.Abs(math.Abs(y)-2.5), 0, 0.3)*bar(x*1.3, 0.5)
	}
}

func stitches(c paint.Chance) pattern {
	w, rows := c.Span(0.55, 0.8), 1+c.IntN(3)
	return func(x, y float64) float64 {
		for k := range rows {
			if math.Abs(y-float64(k)) < 0.12 && bar(x+0.3*float64(k), w) > 0 {
				return 1
			}
		}
		return 0.35 + 0.1*math.Sin(25*x)*math.Sin(25*y)
	}
}

func rope(c paint.Chance) pattern {
	slant := c.Span(0.3, 0.8)
	return func(x, y float64) float64 {
		if math.Abs(y) > 1.2 {
			return 0.1
		}
		return (0.3 + 0.7*math.Abs(math.Sin(math.Pi*(x+slant*y)))) * math.Sqrt(1-y*y/1.5)
	}
}

func spiralBinding(c paint.Chance) pattern {
	w := c.Span(0.15, 0.35)
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

func grass(c paint.Chance) pattern {
	lean, seed := c.Span(0.05, 0.3), uint32(c.IntN(1000))
	return func(x, y float64) float64 {
		v := 0.0
		for k := range 3 {
			s := seed + uint32(k)
			u := x + lean*y*(paint.Hash(int32(math.Floor(x*0.7)), int32(k), s)-0.5) + 0.37*float64(k)
			v = max(v, (0.4+0.6*paint.Hash(int32(math.Floor(u)), int32(math.Floor(y/8)),
				s))*math.Pow(math.Abs(math.Sin(math.Pi*u)), 2))
		}
		return v
	}
}
