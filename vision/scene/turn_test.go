package scene

import (
	"math"
	"testing"

	"leadmark/vision/ruler"
)

// drawn is a scene of blotches, known everywhere, as a camera sees it that was moved by m: its place
// (x, y) shows what lies at m.Back of that, darker by a tenth. Detail is how large the blotches are.
func drawn(m ruler.Shift, detail float64, hidden func(x, y int) bool) ruler.Backdrop {
	b := ruler.Backdrop{Width: 200, Height: 140, Scale: 10, Tone: make([]uint8, 200*140),
		Hidden: make([]bool, 200*140)}
	for y := range b.Height {
		for x := range b.Width {
			const rays = 3
			t := 0.0
			for k := range rays * rays {
				p := m.Back(ruler.Point{X: 10*(float64(x)+(float64(k%rays)+0.5)/rays) - 0.5,
					Y: 10*(float64(y)+(float64(k/rays)+0.5)/rays) - 0.5})
				u, v := p.X/detail, p.Y/detail
				t += 110 + 30*math.Sin(u+0.7*math.Sin(1.3*v)) + 25*math.Sin(1.1*v+math.Cos(0.8*u)) +
					10*math.Sin(2.3*u-1.9*v) + 35*math.Sin(9.7*u+math.Sin(0.31*v))*math.Cos(8.9*v-math.Sin(0.57*u))
			}
			t /= rays * rays
			b.Tone[y*b.Width+x] = uint8(t + 0.5)
			b.Hidden[y*b.Width+x] = hidden != nil && hidden(x, y)
		}
	}
	return b
}

// What a turned camera does to a scene is found to a few hundredths of a pixel of ten that make one
// place, also where a ruler hides half of it, and by so much more uncertain where little is seen.
func TestShiftFindsATurn(t *testing.T) {
	middle := ruler.Point{X: 999.5, Y: 699.5}
	half := 10 * math.Hypot(99.5, 69.5)
	for name, m := range map[string]ruler.Shift{
		"none":   {},
		"aside":  {Move: ruler.Point{X: -21}, Lean: ruler.Point{X: -1.2}},
		"up":     {Move: ruler.Point{Y: 17.3}, Lean: ruler.Point{Y: 0.9}, Grown: 0.2},
		"rolled": {Move: ruler.Point{X: 1.3}, Turned: 5.2},
		"all":    {Move: ruler.Point{X: 13, Y: -19}, Turned: -4, Lean: ruler.Point{X: 0.6, Y: -1}, Grown: 0.3},
	} {
		m.Middle, m.Half = middle, half
		for way, hidden := range map[string]func(x, y int) bool{"whole": nil,
			"hidden": func(_, y int) bool { return y > 40 && y < 100 }} {
			s, ok := Shift(drawn(ruler.Shift{Middle: middle, Half: half}, 60, hidden), drawn(m, 60, hidden))
			if !ok || s.Warp > 0.3 || name != "none" && !s.Whole {
				t.Errorf("%s, %s: %v, %+v", name, way, ok, s)
			}
			for _, p := range []ruler.Point{middle, {X: 200, Y: 300}, {X: 1800, Y: 700}, {X: 500, Y: 1300}} {
				off := s.To(p).Sub(m.To(p))
				ux, uy := s.U(p, ruler.Point{X: 1}), s.U(p, ruler.Point{Y: 1})
				if off.Len() > 0.1 || off.Len() > 3*math.Hypot(ux, uy) || math.Hypot(ux, uy) > 0.4 {
					t.Errorf("%s, %s: %v is off by %.3f px (u %.3f, %.3f)", name, way, p, off, ux, uy)
				}
			}
		}
	}
}

// A scene that shows nothing but on one side does not tell a turn: it says how little it knows.
func TestShiftOfAPlainScene(t *testing.T) {
	left := func(x, _ int) bool { return x > 60 }
	m := ruler.Shift{Middle: ruler.Point{X: 999.5, Y: 699.5}, Half: 1214, Move: ruler.Point{X: 12}}
	s, ok := Shift(drawn(ruler.Shift{Middle: m.Middle, Half: m.Half}, 60, left), drawn(m, 60, left))
	if !ok || s.Whole {
		t.Errorf("%v, %+v", ok, s)
	}
	near, far := ruler.Point{X: 300, Y: 700}, ruler.Point{X: 1900, Y: 700}
	down := ruler.Point{Y: 1}
	if a, b := s.U(near, down), s.U(far, down); b < 3*a {
		t.Errorf("u is %.3f px where the scene is seen, %.3f px on the other side", a, b)
	}
	flat := ruler.Backdrop{Width: 200, Height: 140, Scale: 10, Tone: make([]uint8, 200*140), Hidden: make([]bool, 200*140)}
	if s, ok := Shift(flat, flat); ok && s.U(near, down) < 5 {
		t.Errorf("a flat scene: %+v", s)
	}
}
