package looks

import "leadmark/vision/synth/paint"

// grainAt returns the factor by which a material's texture changes its colour at (u, v) metres.
func (l *Look) grainAt(u, v float64, seed uint32) float64 {
	switch l.Grain {
	case Paper:
		return 1 + l.GrainDepth*paint.Cloud(u/(0.4*mm), v/(0.4*mm), 2, seed)
	case Brushed:
		coarse, fine := paint.Noise(u/(12*mm), v/(0.07*mm), seed), paint.Noise(u/(3*mm), v/(0.16*mm), seed+1)
		return 1 + l.GrainDepth*(0.6*coarse+0.4*fine)
	case Wood:
		bend := 1.2 * mm * paint.Noise(u/(60*mm), v/(9*mm), seed)
		ring := paint.Noise(u/(90*mm), (v+bend)/(1.1*mm), seed+2)
		pore := paint.Noise(u/(5*mm), v/(0.13*mm), seed+3)
		return max(0.15, 1+l.GrainDepth*(0.55*ring+0.35*min(pore, 0.2)))
	}
	return 1
}

// wearAt returns the part of the print that is left at (u, v).
func (l *Look) wearAt(u, v float64, seed uint32) float64 {
	if l.Wear == 0 {
		return 1
	}
	w := 0.5 + 0.5*paint.Cloud(u/(2.5*mm), v/(1.2*mm), 2, seed+11)
	return 1 - l.Wear*max(0, min(1, w*w*1.6))
}
