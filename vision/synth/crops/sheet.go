package crops

import (
	"math"
	"strconv"

	"leadmark/vision/synth/texture"
)

// sheet is a part of the ruler's face in small squares: what is printed on it beside graduations.
type sheet struct {
	w, h int
	p0   float64 // mm, of its first column
	perM float64 // squares a mm
	v    []float32
}

func newSheet(p0, p1, width, perMM float64) *sheet {
	s := &sheet{w: max(2, int((p1-p0)*perMM)), h: max(2, int(width*perMM)), p0: p0, perM: perMM}
	s.v = make([]float32, s.w*s.h)
	return s
}

// at is the value at a place, 0 beyond the sheet.
func (s *sheet) at(p, q float64) float64 {
	x, y := (p-s.p0)*s.perM-0.5, q*s.perM-0.5
	if x < 0 || y < 0 || x >= float64(s.w-1) || y >= float64(s.h-1) {
		return 0
	}
	i, k := int(x), int(y)
	tx, ty := float32(x-float64(i)), float32(y-float64(k))
	o := k*s.w + i
	a, b := s.v[o]+tx*(s.v[o+1]-s.v[o]), s.v[o+s.w]+tx*(s.v[o+s.w+1]-s.v[o+s.w])
	return float64(a + ty*(b-a))
}

// spread smears the sheet along p, as a movement of so many mm does.
func (s *sheet) spread(mm float64) {
	n := int(mm * s.perM / 2)
	if n < 1 {
		return
	}
	sum := make([]float32, s.w+1)
	for y := range s.h {
		line := s.v[y*s.w : (y+1)*s.w]
		for x, v := range line {
			sum[x+1] = sum[x] + v
		}
		for x := range line {
			line[x] = (sum[min(s.w, x+n+1)] - sum[max(0, x-n)]) / float32(2*n+1)
		}
	}
}

// pen is how numerals are written.
type pen struct {
	high, thick, slant, wide float64 // mm; slant and wide are shares
}

// write writes a number with its middle at (p, q); turned by a half where it stands on its head.
func (s *sheet) write(n int, p, q float64, pen pen, turned bool) {
	text := strconv.Itoa(n)
	all, wide := figures(), 0.8*pen.high*pen.wide
	left := -wide * (float64(len(text)) - 0.25) / 2
	for i, d := range text {
		strokes := all[d-'0']
		x0 := left + float64(i)*wide
		s.ink(p, q, x0-pen.high*0.2, x0+wide, pen, turned, func(x, y float64) float64 {
			u, v := (x-x0)/(pen.high*pen.wide)+pen.slant*(y/pen.high), y/pen.high+0.5
			best := math.Inf(1)
			for _, st := range strokes {
				best = min(best, st.away(u, v))
			}
			return best * pen.high
		})
	}
}

// ink fills where a distance is less than half the pen's thickness.
func (s *sheet) ink(p, q, x0, x1 float64, pen pen, turned bool, away func(x, y float64) float64) {
	sign := 1.0
	if turned {
		sign = -1
	}
	half, y1 := 0.5/s.perM, 0.5*pen.high+pen.thick
	a, b := p+min(sign*x0, sign*x1), p+max(sign*x0, sign*x1)
	for k := max(0, int((q-y1)*s.perM)); k < min(s.h, int((q+y1)*s.perM)+1); k++ {
		for i := max(0, int((a-s.p0)*s.perM)); i < min(s.w, int((b-s.p0)*s.perM)+1); i++ {
			x, y := (float64(i)+0.5)/s.perM+s.p0-p, (float64(k)+0.5)/s.perM-q
			v := float32(ramp(pen.thick/2-away(sign*x, sign*y), half))
			s.v[k*s.w+i] = max(s.v[k*s.w+i], v)
		}
	}
}

// numerals writes those of a scale.
func (s *sheet) numerals(r *Ruler, sc *Scale, pen pen) {
	q := sc.longest() + 0.2*pen.high + pen.high/2
	if sc.Far {
		q = r.Width - q
	}
	if sc.Label == 0 {
		return
	}
	for k := sc.From; k <= sc.To; k++ {
		if k%sc.Label != 0 {
			continue
		}
		p := sc.Zero + float64(k)*sc.Step
		if p < 0.6*pen.high { // cut by the end: left out, as on steel rules
			continue
		}
		if n := sc.Sense * float64(k) * sc.Step / sc.Figure; n > -0.5 && p > s.p0-5 && p < s.p0+float64(s.w)/s.perM+5 {
			s.write(int(math.Round(n)), p, q, pen, sc.Sense < 0)
		}
	}
}

// scratch draws so many fine lines, in either sense of tone.
func (s *sheet) scratch(l texture.Lot, n int) {
	for range n {
		x, y := l.Span(0, float64(s.w)), l.Span(0, float64(s.h))
		angle, long := l.Span(-0.5, 0.5), l.Ratio(20, 0.5*float64(s.w)+21)
		if l.Chance(0.2) {
			angle += math.Pi / 2
		}
		much := float32(l.Sign() * l.Span(0.1, 0.5))
		for t := 0.0; t < long; t += 0.7 {
			i, k := int(x+t*math.Cos(angle)), int(y+t*math.Sin(angle))
			if i >= 0 && k >= 0 && i < s.w && k < s.h {
				s.v[k*s.w+i] = much
			}
		}
	}
}
