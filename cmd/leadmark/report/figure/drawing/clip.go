package drawing

import "slices"

// Closed is the polygon with its first point again at the end.
func Closed(p [][2]float64) [][2]float64 {
	if len(p) == 0 {
		return nil
	}
	return append(slices.Clone(p), p[0])
}

// Clipped is the part of a polygon inside a box (Sutherland and Hodgman 1974).
func Clipped(p [][2]float64, x0, y0, x1, y1 float64) [][2]float64 {
	for _, side := range []struct {
		axis  int
		limit float64
		sign  float64
	}{{0, x0, 1}, {0, x1, -1}, {1, y0, 1}, {1, y1, -1}} {
		in := func(q [2]float64) float64 { return side.sign * (q[side.axis] - side.limit) }
		var out [][2]float64
		for i, b := range p {
			a := p[(i+len(p)-1)%len(p)]
			if da, db := in(a), in(b); (da < 0) != (db < 0) {
				t := da / (da - db)
				out = append(out, [2]float64{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1])})
			}
			if in(b) >= 0 {
				out = append(out, b)
			}
		}
		p = out
	}
	return p
}
