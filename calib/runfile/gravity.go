package runfile

import "math"

// StandardGravity is the conventional value g_n in m/s^2: BIPM, 3rd CGPM (1901), CR 70.
const StandardGravity = 9.80665

// StandardGravityU is the standard uncertainty in m/s^2 of taking StandardGravity for a place
// that is not stated: normal gravity at sea level lies between 9.7803 (equator) and 9.8322
// (poles), a rectangular distribution of half-width 0.026 (JCGM 100:2008, 4.3.7).
const StandardGravityU = 0.015

// NormalGravityU is the standard uncertainty in m/s^2 of NormalGravity as an estimate of the true
// local gravity: anomalies of the order of 40 mGal (from memory, no source at hand).
const NormalGravityU = 4e-4

// NormalGravity returns the magnitude of normal gravity of the WGS 84 ellipsoid in m/s^2 at a
// geodetic latitude in radians, -pi/2 to pi/2, and a height above the ellipsoid in metres, up to
// some 10 km. On the ellipsoid it is Somigliana's closed formula
//
//	g = 9.7803253359 (1 + 0.00193185265241 sin^2 lat) / sqrt(1 - 0.00669437999013 sin^2 lat)
//
// and above it the free-air correction to the second order
//
//	g_h = g (1 - 2/a (1 + f + m - 2 f sin^2 lat) h + 3 h^2/a^2)
//
// Source: NIMA TR8350.2, World Geodetic System 1984, equations 4-1 and 4-3 and table 3.
func NormalGravity(latitude, height float64) float64 {
	const (
		a = 6378137.0         // m, semi-major axis
		f = 1 / 298.257223563 // flattening
		m = 0.00344978650684  // omega^2 a^2 b / GM
	)
	s2 := math.Sin(latitude) * math.Sin(latitude)
	g := 9.7803253359 * (1 + 0.00193185265241*s2) / math.Sqrt(1-0.00669437999013*s2)
	return g * (1 - 2/a*(1+f+m-2*f*s2)*height + 3*height*height/(a*a))
}
