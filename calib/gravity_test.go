package calib

import (
	"math"
	"testing"
)

func TestNormalGravity(t *testing.T) {
	const deg = math.Pi / 180
	for _, c := range []struct {
		latitude, height, want, within float64
		source                         string
	}{
		{0, 0, 9.7803253359, 1e-9, "WGS 84, TR8350.2 table 3.4 (equator)"},
		{90, 0, 9.8321849378, 1e-9, "WGS 84, TR8350.2 table 3.4 (pole)"},
		{30, 0, 9.7932472692, 1e-8, "computed from the same formula in other software"},
		{45, 0, 9.8061977694, 1e-8, "computed from the same formula in other software"},
		{60, 0, 9.8191769531, 1e-8, "computed from the same formula in other software"},
		{-45, 0, 9.8061977694, 1e-8, "the ellipsoid is symmetric"},
		{45, 1000, 9.80311294, 1e-8, "free-air to the second order, computed in other software"},
		{0, 4000, 9.76798611, 1e-8, "free-air to the second order, computed in other software"},
		// GRS 80 differs from WGS 84 by 1.5e-6: Bulletin Geodesique 62(3), 1988, p. 356, prints 9.806199203.
		{45, 0, 9.806199203, 2e-6, "GRS 80, Bulletin Geodesique 62(3), 1988, p. 356"},
	} {
		if got := NormalGravity(c.latitude*deg, c.height); math.Abs(got-c.want) > c.within {
			t.Errorf("at %v degrees, %v m: %.10f, want %.10f (%s)", c.latitude, c.height, got, c.want, c.source)
		}
	}
}

// Free fall from rest with standard gravity: v = sqrt(2 g h), computed in other software.
func TestStandardGravityGivesTabulatedSpeeds(t *testing.T) {
	for h, want := range map[float64]float64{0.05: 0.9902853, 0.10: 1.4004749, 0.50: 3.1315571, 1.00: 4.4286906, 2.00: 6.2631142} {
		if got := math.Sqrt(2 * StandardGravity * h); math.Abs(got-want) > 1e-7 {
			t.Errorf("fall of %v m: %.7f m/s, want %.7f", h, got, want)
		}
	}
}
