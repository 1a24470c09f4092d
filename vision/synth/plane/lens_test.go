package plane

import (
	"math"
	"testing"
)

// What a lens bends is put straight again, and 0.5 % of barrel moves a place at its reach by so much.
func TestALensBends(t *testing.T) {
	l := Lens{Axis: Point{100, 50}, Reach: 1000, Bend: 0.005}
	for _, p := range []Point{{100, 50}, {900, 50}, {-300, 800}, {104, 40}} {
		if d := l.Straight(l.Seen(p)).Sub(p).Len(); d > 1e-9 {
			t.Errorf("%v comes back %.2g px off", p, d)
		}
	}
	if got := l.Straight(Point{1100, 50}).X - 1100; math.Abs(got-5) > 1e-9 {
		t.Errorf("bent by %.3f px, want 5", got)
	}
	v := NewView(Pose{Centre: Point{400, 300}, PxPerMM: 10, Distance: 300, Yaw: 0.2, Turn: 0.1}.Map(), l)
	along, across := v.Slope(Point{20, 5})
	if got := v.Back(v.At(Point{20, 5})).Sub(Point{20, 5}).Len(); got > 1e-9 {
		t.Errorf("a place comes back %.2g mm off", got)
	}
	d := v.At(Point{20.1, 5.1}).Sub(v.At(Point{20, 5})).Sub(along.Add(across).Mul(0.1))
	if d.Len() > 0.01 {
		t.Errorf("the slope is %.3f px off over 0.1 mm", d.Len())
	}
}
