package texture

import "math"

// Colour is in linear light: red, green, blue, of white paper's 1.
type Colour [3]float32

// Grey is without colour.
func Grey(v float64) Colour { return Colour{float32(v), float32(v), float32(v)} }

// Mix goes from c (share 0) to d (1).
func (c Colour) Mix(d Colour, share float64) Colour {
	t := float32(share)
	return Colour{c[0] + t*(d[0]-c[0]), c[1] + t*(d[1]-c[1]), c[2] + t*(d[2]-c[2])}
}

// Times is darker or brighter.
func (c Colour) Times(k float64) Colour {
	t := float32(k)
	return Colour{t * c[0], t * c[1], t * c[2]}
}

// Bright is the brightness (the Y of sRGB's primaries).
func (c Colour) Bright() float64 {
	return 0.2126*float64(c[0]) + 0.7152*float64(c[1]) + 0.0722*float64(c[2])
}

// Tint is a colour of about a brightness.
func (l Lot) Tint(bright, much float64) Colour {
	var c Colour
	for k := range c {
		c[k] = float32(max(0.004, bright*(1+l.Span(-much, much))))
	}
	return c
}

// Field is a colour at each place.
type Field func(x, y float64) Colour

// Turned is a field turned and stretched: its unit is so many px, and its origin elsewhere.
func (f Field) Turned(unit, angle, x0, y0 float64) Field {
	c, s := math.Cos(angle)/unit, math.Sin(angle)/unit
	return func(x, y float64) Colour { return f(x*c+y*s+x0, -x*s+y*c+y0) }
}
