package paint

import "math"

// Hash returns a number in [0, 1) that depends on a grid point and a seed alone.
func Hash(ix, iy int32, seed uint32) float64 {
	h := uint32(ix)*0x9E3779B1 ^ uint32(iy)*0x85EBCA77 ^ seed*0xC2B2AE3D
	h ^= h >> 15
	h *= 0x2C1B3C6D
	h ^= h >> 12
	h *= 0x297A2D39
	h ^= h >> 15
	return float64(h) * (1.0 / (1 << 32))
}

// Noise is smooth value noise in [-1, 1] with features of size 1.
func Noise(x, y float64, seed uint32) float64 {
	fx, fy := math.Floor(x), math.Floor(y)
	ix, iy := int32(fx), int32(fy)
	x, y = x-fx, y-fy
	x, y = x*x*(3-2*x), y*y*(3-2*y)
	a := Hash(ix, iy, seed)*(1-x) + Hash(ix+1, iy, seed)*x
	b := Hash(ix, iy+1, seed)*(1-x) + Hash(ix+1, iy+1, seed)*x
	return 2*(a*(1-y)+b*y) - 1
}

// Cloud adds octaves of noise, each twice as fine and half as strong; about [-1, 1].
func Cloud(x, y float64, octaves int, seed uint32) float64 {
	sum, amp, norm := 0.0, 1.0, 0.0
	for i := range octaves {
		sum += amp * Noise(x, y, seed+uint32(i)*7919)
		norm += amp
		// Turned by 37 degrees from octave to octave, so that the grid does not show.
		x, y, amp = 1.6*x-1.2*y+17.3, 1.2*x+1.6*y-9.1, amp/2
	}
	return sum / norm * 1.4
}
