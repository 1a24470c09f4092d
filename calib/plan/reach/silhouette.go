package reach

import (
	"cmp"
	"slices"
)

// corners are the eight corners of a body's box.
func (m *Model) corners(b body) [8][3]float64 {
	up, side := crossAxes(b)
	d := [3]float64{b.dx, b.dy, b.dz}
	var all [8][3]float64
	for k := range all {
		for i, mid := range [3]float64{b.x, b.y, b.z} {
			all[k][i] = mid + sign(k&1)*m.s.Length/2*d[i] + sign(k&2)*m.s.Height/2*up[i] +
				sign(k&4)*m.s.Width/2*side[i]
		}
	}
	return all
}

func sign(bit int) float64 {
	if bit == 0 {
		return 1
	}
	return -1
}

// outlineOf is the outline of a body seen from the side and from above.
func (m *Model) outlineOf(b body) (side, top [][2]float64) {
	var s, t [][2]float64
	for _, c := range m.corners(b) {
		s, t = append(s, [2]float64{c[0], c[1]}), append(t, [2]float64{c[0], c[2]})
	}
	return hull(s), hull(t)
}

// hull is the convex hull, counter-clockwise (Andrew 1979, monotone chain).
func hull(p [][2]float64) [][2]float64 {
	p = slices.Clone(p)
	slices.SortFunc(p, func(a, b [2]float64) int {
		return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1]))
	})
	var all [][2]float64
	for range 2 {
		var chain [][2]float64
		for _, q := range p {
			for n := len(chain); n > 1 && turn(chain[n-2], chain[n-1], q) <= 0; n = len(chain) {
				chain = chain[:n-1]
			}
			chain = append(chain, q)
		}
		all = append(all, chain[:len(chain)-1]...)
		slices.Reverse(p)
	}
	return all
}

func turn(a, b, c [2]float64) float64 { return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0]) }
