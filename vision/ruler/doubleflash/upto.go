package doubleflash

import "math"

// linesUpTo says whether the second flash's lines run up to its front end and no further, but for the
// blank margin that front_mm tells of.
func (f *fitter) linesUpTo(m *model, p pair) bool {
	if f.spec.Front == nil {
		return true
	}
	margin := max(0, -*f.spec.Front/f.pattern.Graduation)
	beyond := -margin + 0.5 // of the last line, where nothing is to follow
	if margin < 3 {
		beyond = 0.5 // of the end itself
	}
	// the end's own edge left out
	last := f.linesIn(m, p.lead.T, [2]float64{-margin - 3.4, -margin + min(0.4, margin-0.6)})
	if more := f.linesIn(m, p.lead.T, [2]float64{beyond, beyond + 2.5}); last > 0.2 && more > max(0.6, last/2) {
		return false
	}
	// Half a period apart the two images look alike when they change roles. Else a hook or a hand may
	// hide the first lines.
	part := m.p[pMoved]/float64(f.pattern.Classes[0].Period) - 0.5
	return math.Abs(part-math.Round(part)) > 0.1 || last > 0.2
}

// linesIn is how strong the second flash's lines are in a part of the face, in graduations from its
// front end on, against what they usually are; where the part is too short to tell, 0.4.
func (f *fitter) linesIn(m *model, front float64, part [2]float64) float64 {
	pitch := f.row.Pitch * f.stride
	a, b := front+f.forward*pitch*part[0], front+f.forward*pitch*part[1]
	none, lines, _ := m.compare(f.face.flat(min(a, b), max(a, b), 20*pitch), second)
	if len(none) == 0 {
		return 0.4
	}
	gain := math.Exp(m.p[pGain])
	usual := gain * gain / (1 + gain*gain) // part of the two combs' power
	most := 0.0
	for j := max(0, len(none)/2-1); j <= len(none)/2+1 && j < min(len(none), len(f.power)); j++ {
		if none[j] > 1.5*lines[j] {
			most = max(most, (none[j]-lines[j])/(usual*f.power[j]))
		}
	}
	return most
}
