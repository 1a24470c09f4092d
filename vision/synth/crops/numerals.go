package crops

import "math"

// stroke is a line through places of a numeral's box: 0.6 wide, 1 high, y down.
type stroke [][2]float64

// arc is part of an ellipse, degrees from the right by way of below.
func arc(cx, cy, rx, ry, from, to float64) (s stroke) {
	n := 12
	for i := range n + 1 {
		a := (from + (to-from)*float64(i)/float64(n)) * math.Pi / 180
		s = append(s, [2]float64{cx + rx*math.Cos(a), cy + ry*math.Sin(a)})
	}
	return s
}

// figures are the strokes of 0 to 9.
func figures() [10][]stroke {
	return [10][]stroke{
		{arc(0.3, 0.5, 0.27, 0.5, 0, 360)},
		{{{0.12, 0.22}, {0.34, 0}, {0.34, 1}}},
		{append(arc(0.3, 0.27, 0.27, 0.27, 180, 390), [2]float64{0.03, 1}, [2]float64{0.58, 1})},
		{arc(0.28, 0.25, 0.25, 0.25, 190, 450), arc(0.28, 0.74, 0.29, 0.26, 270, 530)},
		{{{0.44, 1}, {0.44, 0}, {0.02, 0.7}, {0.6, 0.7}}},
		{append(stroke{{0.54, 0}, {0.1, 0}, {0.06, 0.45}}, arc(0.29, 0.68, 0.29, 0.32, 220, 500)...)},
		{append(stroke{{0.46, 0}}, arc(0.3, 0.68, 0.27, 0.32, 200, 560)...)},
		{{{0.03, 0}, {0.58, 0}, {0.2, 1}}},
		{arc(0.3, 0.24, 0.23, 0.24, 0, 360), arc(0.3, 0.74, 0.28, 0.26, 0, 360)},
		{append(stroke{{0.14, 1}}, arc(0.3, 0.32, 0.27, 0.32, 20, 380)...)},
	}
}

// away is the distance of (x, y) from a stroke.
func (s stroke) away(x, y float64) float64 {
	best := math.Inf(1)
	for i := 1; i < len(s); i++ {
		ax, ay := s[i-1][0], s[i-1][1]
		dx, dy := s[i][0]-ax, s[i][1]-ay
		t := 0.0
		if l := dx*dx + dy*dy; l > 0 {
			t = min(1, max(0, ((x-ax)*dx+(y-ay)*dy)/l))
		}
		best = min(best, math.Hypot(x-ax-t*dx, y-ay-t*dy))
	}
	return best
}
