package plane

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.Abs(got-want) > tol {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

func TestThereAndBack(t *testing.T) {
	m := Pose{About: Point{30, 10}, Centre: Point{700, 200}, PxPerMM: 12, Distance: 300, Yaw: 0.2, Tilt: -0.1,
		Turn: 0.3, Principal: Point{200, -90}}.Map()
	p := Point{51, 17}
	q := m.Inverse().At(m.At(p))
	near(t, "x", q.X, p.X, 1e-9)
	near(t, "y", q.Y, p.Y, 1e-9)
	q = m.Then(m.Inverse()).At(p)
	near(t, "x of both", q.X, p.X, 1e-9)
	a := m.At(Point{30, 10})
	near(t, "centre x", a.X, 700, 1e-9)
	near(t, "centre y", a.Y, 200, 1e-9)
}

// A pinhole at distance D sees a plane turned by yaw: a point d mm along it lies at f d cos / (D + d sin).
func TestForeshortening(t *testing.T) {
	m := Pose{PxPerMM: 10, Distance: 200, Yaw: 0.25}.Map()
	d := 40.0
	want := 10 * 200 * d * math.Cos(0.25) / (200 + d*math.Sin(0.25))
	near(t, "along", m.At(Point{d, 0}).X, want, 1e-9)
	m = Pose{PxPerMM: 10, Distance: 200, Turn: math.Pi / 2}.Map()
	near(t, "turned from x to y", m.At(Point{d, 0}).Y, 400, 1e-9)
}

func TestSlope(t *testing.T) {
	m := Pose{PxPerMM: 12, Distance: 300, Yaw: 0.2, Tilt: -0.1, Turn: 0.3}.Map()
	p, h := Point{20, 5}, 1e-5
	ax, ay := m.Slope(p)
	d := m.At(Point{p.X + h, p.Y}).Sub(m.At(Point{p.X - h, p.Y})).Mul(1 / (2 * h))
	near(t, "x by x", ax.X, d.X, 1e-6)
	near(t, "y by x", ax.Y, d.Y, 1e-6)
	d = m.At(Point{p.X, p.Y + h}).Sub(m.At(Point{p.X, p.Y - h})).Mul(1 / (2 * h))
	near(t, "x by y", ay.X, d.X, 1e-6)
	near(t, "y by y", ay.Y, d.Y, 1e-6)
}
