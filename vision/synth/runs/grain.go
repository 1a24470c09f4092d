package runs

import "math"

// hash returns a number in [0, 1) that depends on a grid point and a seed alone.
func hash(ix, iy int32, seed uint32) float64 {
	h := uint32(ix)*0x9E3779B1 ^ uint32(iy)*0x85EBCA77 ^ seed*0xC2B2AE3D
	h ^= h >> 15
	h *= 0x2C1B3C6D
	h ^= h >> 12
	h *= 0x297A2D39
	h ^= h >> 15
	return float64(h) * (1.0 / (1 << 32))
}

// noise is smooth value noise in [-1, 1] with features of size 1.
func noise(x, y float64, seed uint32) float64 {
	fx, fy := math.Floor(x), math.Floor(y)
	ix, iy := int32(fx), int32(fy)
	x, y = x-fx, y-fy
	x, y = x*x*(3-2*x), y*y*(3-2*y)
	a := hash(ix, iy, seed)*(1-x) + hash(ix+1, iy, seed)*x
	b := hash(ix, iy+1, seed)*(1-x) + hash(ix+1, iy+1, seed)*x
	return 2*(a*(1-y)+b*y) - 1
}

// cloud adds octaves of noise, each twice as fine and half as strong; about [-1, 1].
func cloud(x, y float64, octaves int, seed uint32) float64 {
	sum, amp, norm := 0.0, 1.0, 0.0
	for i := range octaves {
		sum += amp * noise(x, y, seed+uint32(i)*7919)
		norm += amp
		// Turned by 37 degrees from octave to octave, so that the grid does not show.
		x, y, amp = 1.6*x-1.2*y+17.3, 1.2*x+1.6*y-9.1, amp/2
	}
	return sum / norm * 1.4
}

// grainAt returns the factor by which a material's texture changes its colour at (u, v) metres.
func (l *Look) grainAt(u, v float64, seed uint32) float64 {
	switch l.Grain {
	case Paper:
		return 1 + l.GrainDepth*cloud(u/(0.4*mm), v/(0.4*mm), 2, seed)
	case Brushed:
		return 1 + l.GrainDepth*(0.6*noise(u/(12*mm), v/(0.07*mm), seed)+0.4*noise(u/(3*mm), v/(0.16*mm), seed+1))
	case Wood:
		bend := 1.2 * mm * noise(u/(60*mm), v/(9*mm), seed)
		ring := noise(u/(90*mm), (v+bend)/(1.1*mm), seed+2)
		pore := noise(u/(5*mm), v/(0.13*mm), seed+3)
		return max(0.15, 1+l.GrainDepth*(0.55*ring+0.35*min(pore, 0.2)))
	}
	return 1
}

// wearAt returns the part of the print that is left at (u, v).
func (l *Look) wearAt(u, v float64, seed uint32) float64 {
	if l.Wear == 0 {
		return 1
	}
	w := 0.5 + 0.5*cloud(u/(2.5*mm), v/(1.2*mm), 2, seed+11)
	return 1 - l.Wear*max(0, min(1, w*w*1.6))
}
