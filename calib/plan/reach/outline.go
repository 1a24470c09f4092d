package reach

import (
	"leadmark/fit/parallel"
	"math"
	"math/rand/v2"
)

// outlineSides is how many sides an outline has at most, and outlineDraws from how many trips it is
// drawn.
const (
	outlineSides = 24
	outlineDraws = 1 << 13
)

// outlines are the outlines, seen from the side (along, up) and from above (along, depth), of all
// the places where the bodies of the trips inside a box are: the polygon about them with up to 24
// sides. A body inside the box is inside both, so they hold the whole body as often as the box
// does.
func (m *Model) outlines(s shape, seed uint64) (side, top [][2]float64) {
	r := rand.New(rand.NewPCG(seed, 3))
	const parts = 4
	normals := halfCircle()
	var reach [parts][2][outlineSides]float64
	var begin [parts]sequence
	for i := range begin {
		begin[i] = newSequence(r)
		for k := range outlineSides {
			reach[i][0][k], reach[i][1][k] = math.Inf(-1), math.Inf(-1)
		}
	}
	parallel.Each(parts, 0, func(i int) {
		for range outlineDraws / parts {
			if b := m.body(m.draw(&begin[i])); m.inside(b, s) {
				m.stretch(b, &normals, &reach[i])
			}
		}
	})
	var all [2][outlineSides]float64
	for v := range all {
		for k := range outlineSides {
			all[v][k] = math.Inf(-1)
			for i := range reach {
				all[v][k] = max(all[v][k], reach[i][v][k])
			}
		}
	}
	for k := range outlineSides { // left and right are alike
		far := all[1][(outlineSides-k)%outlineSides]
		all[1][k] = max(all[1][k], far)
	}
	return polygon(all[0]), polygon(all[1])
}

// stretch widens the outlines, as far as they reach in each direction, by a body. Half the
// directions are the others turned round, for which the box reaches as far from its middle.
func (m *Model) stretch(b body, normals *[outlineSides / 2][2]float64,
	reach *[2][outlineSides]float64) {
	up, side := crossAxes(b)
	l, h, w := m.s.Length/2, m.s.Height/2, m.s.Width/2
	for k, n := range normals {
		c, s := n[0], n[1]
		for v, q := range [2][4]float64{{b.y, b.dy, up[1], side[1]}, {b.z, b.dz, up[2], side[2]}} {
			mid := c*b.x + s*q[0]
			out := l*math.Abs(c*b.dx+s*q[1]) + h*math.Abs(c*up[0]+s*q[2]) +
				w*math.Abs(c*side[0]+s*q[3])
			reach[v][k] = max(reach[v][k], mid+out)
			reach[v][k+outlineSides/2] = max(reach[v][k+outlineSides/2], out-mid)
		}
	}
}

// halfCircle is half the directions in which an outline's sides face.
func halfCircle() (n [outlineSides / 2][2]float64) {
	for k := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / outlineSides)
		n[k] = [2]float64{cos, sin}
	}
	return n
}

func (m *Model) inside(b body, s shape) bool {
	x, y, z := m.half(b)
	for j, over := range [faces]float64{x - b.x, b.x + x, y - b.y, b.y + y, math.Abs(b.z) + z} {
		if over > s.face(j, 1)+fixed {
			return false
		}
	}
	return true
}

// polygon is the meeting of the half planes that each reach so far in one of evenly spread
// directions.
func polygon(reach [outlineSides]float64) [][2]float64 {
	var p [][2]float64
	for k, a := range reach {
		b := reach[(k+1)%outlineSides]
		s0, c0 := math.Sincos(2 * math.Pi * float64(k) / outlineSides)
		s1, c1 := math.Sincos(2 * math.Pi * float64(k+1) / outlineSides)
		det := c0*s1 - s0*c1
		q := [2]float64{(a*s1 - b*s0) / det, (b*c0 - a*c1) / det}
		if n := len(p); n > 0 && math.Hypot(q[0]-p[n-1][0], q[1]-p[n-1][1]) < 1e-6 {
			continue
		}
		if !math.IsInf(q[0], 0) && !math.IsNaN(q[0]) {
			p = append(p, q)
		}
	}
	return p
}
