package reach

import (
	"math"
	"testing"

	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/subject"
)

// How far a body reaches is what its eight corners say, whichever way it points, straight up and
// down included.
func TestHalfIsThatOfTheCorners(t *testing.T) {
	m := New(subject.Subject{Length: 0.07, Height: 0.01, Width: 0.03, Motion: subject.Straight,
		Speed: 1}, predict.AssumedLag(0.05, 0), 0)
	for e := -90.0; e <= 90; e += 7.5 {
		for a := -180.0; a <= 180; a += 11.25 {
			b := m.body(start{tau: 0.05, speed: 1, e: e * math.Pi / 180, a: a * math.Pi / 180})
			x, y, z := m.half(b)
			for axis, want := range map[int][2]float64{0: {b.x, x}, 1: {b.y, y}, 2: {b.z, z}} {
				most := 0.0
				for _, c := range m.corners(b) {
					most = max(most, math.Abs(c[axis]-want[0]))
				}
				if math.Abs(most-want[1]) > 1e-9 {
					t.Fatalf("elevation %g, azimuth %g, axis %d: %g, the corners reach %g", e, a,
						axis, want[1], most)
				}
			}
		}
	}
}
