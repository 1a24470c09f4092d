package runfile

import (
	"math"
	"testing"

	"leadmark/testdata"
)

func TestNormalGravity(t *testing.T) {
	const deg = math.Pi / 180
	for _, r := range testdata.Table(t, "gravity.csv") {
		number := func(key string) float64 { return testdata.Number(t, r["source"], r[key]) }
		latitude, height := number("latitude_deg"), number("height_m")
		if got, want := NormalGravity(latitude*deg,
			height), number("gravity"); !(math.Abs(got-want) <= number("allowed")) {
			t.Errorf("at %v degrees, %v m: %.10f, want %.10f (%s)", latitude, height, got, want, r["source"])
		}
	}
}

// Free fall from rest with standard gravity: v = sqrt(2 g h), computed in other software.
func TestStandardGravityGivesTabulatedSpeeds(t *testing.T) {
	for h, want := range map[float64]float64{0.05: 0.9902853, 0.10: 1.4004749, 0.50: 3.1315571, 1.00: 4.4286906,
		2.00: 6.2631142} {
		if got := math.Sqrt(2 * StandardGravity * h); math.Abs(got-want) > 1e-7 {
			t.Errorf("fall of %v m: %.7f m/s, want %.7f", h, got, want)
		}
	}
}
