package texture

import (
	"maps"
	"math"
	"testing"
)

// Every field has colours that light can have, varies, and is the same for the same lot.
func TestFields(t *testing.T) {
	all := maps.Clone(Backdrops())
	maps.Copy(all, Decoys())
	for name, make := range all {
		f, again := make(NewLot(3, 4)), make(NewLot(3, 4))
		var sum, square float64
		n := 0
		for y := -20.0; y < 20; y += 0.37 {
			for x := -40.0; x < 40; x += 0.31 {
				c := f(x, y)
				for _, v := range c {
					if math.IsNaN(float64(v)) || v < -0.2 || v > 3 {
						t.Fatalf("%s at %.2f, %.2f: %v", name, x, y, c)
					}
				}
				b := c.Bright()
				sum, square, n = sum+b, square+b*b, n+1
			}
		}
		mean := sum / float64(n)
		sd := math.Sqrt(max(0, square/float64(n)-mean*mean))
		if name != "plain" && sd < 0.02*mean {
			t.Errorf("%s shows nothing: %.4f, varying by %.4f", name, mean, sd)
		}
		if f(1.7, 2.9) != again(1.7, 2.9) {
			t.Errorf("%s is not decided by its lot", name)
		}
	}
}

// Even fields come again after a unit.
func TestPeriods(t *testing.T) {
	for _, name := range []string{"stripes", "squared", "slats"} {
		f := Backdrops()[name](NewLot(5, 6))
		worst := 0.0
		for x := 0.0; x < 3; x += 0.05 {
			worst = max(worst, math.Abs(f(x, 0.3).Bright()-f(x+5, 0.3).Bright()))
		}
		if worst > 0.15 {
			t.Errorf("%s differs by %.3f after five units", name, worst)
		}
	}
}

func TestLinedAreBackdrops(t *testing.T) {
	for _, name := range Lined() {
		if Backdrops()[name] == nil {
			t.Errorf("there is no backdrop %q", name)
		}
	}
}
