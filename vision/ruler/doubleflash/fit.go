package doubleflash

import (
	"math"

	"leadmark/vision/ruler"
	"leadmark/vision/ruler/scale"
)

// fitted is a fit of two combs behind a pair of front ends.
type fitted struct {
	*ruler.TwinRow
	// the second flash's lines do not run up to its front end: no reading, but it may speak against
	// another
	doubtful bool
}

// fit refines two combs behind a pair of front ends.
func (f *fitter) fit(p pair) *fitted {
	pitch := f.row.Pitch * f.stride
	lo, hi := f.row.Marks[0].T, p.rear.T-pitch
	if f.forward < 0 {
		lo, hi = p.rear.T+pitch, f.row.Marks[len(f.row.Marks)-1].T
	}
	if hi-lo < fewest*pitch {
		return nil
	}
	flat := f.face.flat(lo, hi, 20*pitch)
	if len(flat.band) < 3 {
		return nil
	}
	m := f.model(flat, p.start)
	if m == nil {
		return nil
	}
	m.stride = f.stride
	upTo := f.linesUpTo(m, p)
	m.orient(f.pattern)
	t := &fitted{m.result(p, f.pattern), !upTo}
	t.Evidence = m.evidence(flat, first|second) - max(m.evidence(flat, first), m.evidence(flat, second))
	t.Score = m.explained(flat, first|second, f.power)
	// Between the two front ends only the second flash shows the ruler.
	lo, hi = min(p.rear.T, p.lead.T)+0.3*pitch, max(p.rear.T, p.lead.T)-0.3*pitch
	if between := f.face.flat(lo, hi, 20*pitch); len(between.band) > 0 {
		t.Score += m.explained(between, second, f.power)
	}
	t.Score += 60 * (t.Rear.Coherent + t.Lead.Coherent)
	judge(t.TwinRow, f.spec, f.forward, float64(f.pattern.Classes[0].Period))
	return t
}

// model fits two combs from a start. Where every line of one image stands on one of the other, or
// midway between two, the picture looks the same to both sides of the start: both are tried.
func (f *fitter) model(flat flatFace, s start) *model {
	const aside = 0.07 // graduations
	u, combs := f.indices(flat), combsOf(f.pattern)
	starts := []float64{s.d}
	if 2*s.d == math.Round(2*s.d) {
		starts = []float64{s.d - aside, s.d + aside}
	}
	var best *model
	least := math.Inf(1)
	for _, d := range starts {
		s.d = d
		m, ok := newModel(flat, combs, u, s)
		if !ok || !m.fit() {
			continue
		}
		if res, ok := m.residuals(m.p); ok {
			if cost := m.cost(m.p, res); cost < least {
				best, least = m, cost
			}
		}
	}
	return best
}

// judge takes off what front ends and lines disagree by.
func judge(t *ruler.TwinRow, spec ruler.Spec, forward, period float64) {
	t.Score -= 0.5 * min(math.Pow((t.Apart-t.Moved)/0.15, 2), 100)
	if spec.Front != nil {
		d := t.Index(t.Rear.T) + forward**spec.Front/t.Graduation
		d -= period * math.Round(d/period)
		t.Score -= 0.5 * min(math.Pow(d/0.3, 2), 100)
	}
}

const (
	inflate  = 2.0   // of the variances, as neighbouring samples share pixels and compression
	placing  = 0.08  // px, standard uncertainty of Moved that more lines do not reduce: overlaps, tone curve
	coveredU = 0.018 // graduations, the same of lines that fall nearly together
)

// result turns a fitted model into plain values.
func (m *model) result(p pair, q scale.Pattern) *ruler.TwinRow {
	t := &ruler.TwinRow{A: m.p[pA], B: m.p[pB], C: m.p[pC], Mid: m.mid, Half: m.half, Moved: m.p[pMoved],
		Gain: math.Exp(m.p[pGain]), Graduation: q.Graduation, Rear: p.rear, Lead: p.lead}
	// Lines that half cover each other are told apart by their shape alone, which the flash's tail
	// bends.
	near := t.Moved - math.Round(t.Moved)
	covered := coveredU * math.Exp(-0.5*near*near/(0.25*0.25))
	t.MovedU = math.Hypot(math.Sqrt(inflate*m.cov.At(pMoved, pMoved)),
		math.Hypot(covered, placing*m.half/math.Abs(m.p[pB])))
	for r := range t.Cov {
		for c := range t.Cov[r] {
			t.Cov[r][c] = inflate * m.cov.At(r, c)
		}
	}
	n := len(m.face.t)
	a, b := m.index(m.p, m.face.t[0]), m.index(m.p, m.face.t[n-1])
	t.First, t.Last = int(math.Ceil(min(a, b))), int(math.Floor(max(a, b)))
	t.Apart = m.index(m.p, p.lead.T) - m.index(m.p, p.rear.T)
	t.Residual = math.Sqrt(t.Cov[0][0] * float64(t.Last-t.First+1))
	return t
}
