package looks

import "math"

// inward returns the distance from the scale's own edge, less its gap.
func (s *Scale) inward(v, width float64) float64 {
	if s.Far {
		return width/2 - v - s.Gap
	}
	return v + width/2 - s.Gap
}

// marks returns the part of a small box fu by fv around (u, e) that the graduation lines cover,
// exactly, e being the distance inward.
func (s *Scale) marks(u, e, fu, fv float64) float64 {
	if e < -fv || e > s.longest()+fv {
		return 0
	}
	low := int(math.Ceil((u - fu/2 - s.LineWidth/2) / s.Pitch))
	high := int(math.Floor((u + fu/2 + s.LineWidth/2) / s.Pitch))
	cover := 0.0
	for i := max(low, s.From); i <= min(high, s.To); i++ {
		r := float64(i) * s.Pitch
		cover += overlap(u, fu, r-s.LineWidth/2, r+s.LineWidth/2) * overlap(e, fv, 0, s.length(i))
	}
	return min(1, cover/(fu*fv))
}

// labelAt returns the numeral near (u, e), and the place in its box, counted from the box's centre.
func (s *Scale) labelAt(u, e float64) (number int, du, de float64, ok bool) {
	if s.NumeralEvery == 0 {
		return 0, 0, 0, false
	}
	de = e - (s.numerals() + s.NumeralHeight/2)
	if math.Abs(de) > 0.7*s.NumeralHeight {
		return 0, 0, 0, false
	}
	every := float64(s.NumeralEvery) * s.Pitch
	k := int(math.Round(u / every))
	if k*s.NumeralEvery < s.From || k*s.NumeralEvery > s.To {
		return 0, 0, 0, false
	}
	du = u - float64(k)*every
	if math.Abs(du) > 1.6*s.NumeralHeight {
		return 0, 0, 0, false
	}
	return k * s.NumeralStep, du, de, true
}

// Print returns the part of a small box around (u, v) that ink covers. busy is false where no ink
// lies within two boxes of it, so that one sample is enough.
func (l *Look) Print(u, v, fu, fv float64) (ink float64, busy bool) {
	for i := range l.Scales {
		s := &l.Scales[i]
		e := s.inward(v, l.Width)
		if e < -3*fv || e > s.numerals()+2*s.NumeralHeight {
			continue
		}
		if n, du, de, ok := s.labelAt(u, e); ok {
			dv := de
			if s.Far {
				dv = -de
			}
			if s.Turned {
				du, dv = -du, -dv
			}
			ink = max(ink, numeral(n, du, dv, s.NumeralHeight))
			busy = true
		}
		if !busy {
			busy = s.marks(u, e, 3*fu, 3*fv) > 0 || s.Code.busy(u, e, 3*fu, 3*fv, s.Pitch)
		}
		if busy {
			ink = max(ink, s.marks(u, e, fu, fv))
		}
		ink = max(ink, s.Code.cover(u, e, fu, fv, s.Pitch))
	}
	return ink, busy
}
