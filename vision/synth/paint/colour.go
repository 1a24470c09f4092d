package paint

// RGB is a colour in linear light; for a surface, the part of the light it gives back.
type RGB struct{ R, G, B float64 }

// Mul is the colour in light k times as strong.
func (c RGB) Mul(k float64) RGB { return RGB{c.R * k, c.G * k, c.B * k} }

// Add is the light of both.
func (c RGB) Add(d RGB) RGB { return RGB{c.R + d.R, c.G + d.G, c.B + d.B} }

// Grey has the same of each part.
func Grey(v float64) RGB { return RGB{v, v, v} }

// Mix goes from a at t = 0 to b at t = 1.
func Mix(a, b RGB, t float64) RGB { return a.Mul(1 - t).Add(b.Mul(t)) }

// Luminance weighs a colour as the sum of its linear parts (ITU-R BT.709).
func Luminance(c RGB) float64 { return 0.2126*c.R + 0.7152*c.G + 0.0722*c.B }
