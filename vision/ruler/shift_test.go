package ruler

import (
	"math"
	"testing"
)

// A camera of image distance f turned by an angle about its lens: a point at x from the middle moves
// to f tan(atan(x/f) - angle), which is (x - f tan a) / (1 + x tan a / f).
func TestShiftOfATurnedCamera(t *testing.T) {
	const f, angle, half = 4000.0, 5e-3, 1000.0
	tan := math.Tan(angle)
	s := Shift{Middle: Point{X: 700, Y: 500}, Half: half, Move: Point{X: -f * tan}, Lean: Point{X: -half * half * tan / f}}
	for _, p := range []Point{{700, 500}, {0, 0}, {1400, 900}} {
		x, y := p.X-700, p.Y-500
		want := Point{X: 700 + f*math.Tan(math.Atan(x/f)-angle), Y: 500 + y/(1+x*tan/f)}
		if got := s.To(p); got.Sub(want).Len() > 1e-9 {
			t.Errorf("%v lies at %v, want %v", p, got, want)
		}
		if got := s.Back(want); got.Sub(p).Len() > 1e-9 {
			t.Errorf("%v lay at %v, want %v", want, got, p)
		}
	}
}

// How a place's uncertainty follows from that of what was fitted, held against differences.
func TestShiftUncertainty(t *testing.T) {
	s := Shift{Middle: Point{X: 700, Y: 500}, Half: 1000}
	sd := [6]float64{0.1, 0.2, 0.3, 0.4, 0.5, 0.6}
	p, dir := Point{X: 1300, Y: 100}, Point{X: 0.8, Y: 0.6}
	want := 0.0
	for i := range sd {
		s.Cov[i][i] = sd[i] * sd[i]
		with := Shift{Middle: s.Middle, Half: s.Half}
		*[]*float64{&with.Move.X, &with.Move.Y, &with.Turned, &with.Grown, &with.Lean.X, &with.Lean.Y}[i] = 1e-3
		want = math.Hypot(want, 1e3*sd[i]*dir.Dot(with.To(p).Sub(p)))
	}
	if u := s.U(p, dir); math.Abs(u-want) > 1e-3 {
		t.Errorf("u %v px, want %v", u, want)
	}
}
