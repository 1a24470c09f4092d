package ruler

import (
	"math"
	"sort"
)

// TwinRow is what a row of graduations shows of two flashes: its lines stand twice, at one pitch,
// the second time Moved graduations further on. Indices count from a line of the longest class.
type TwinRow struct {
	A, B, C, Mid, Half float64       // first flash: t = (A + B m) / (1 + C m), m = (index - Mid) / Half
	Cov                [3][3]float64 // of A, B, C
	Residual           float64       // px, of one line's place as the residual lets expect
	Moved, MovedU      float64       // graduations; positive towards rising T
	Gain               float64       // light of the second flash over that of the first
	Graduation         float64       // m, of the pattern that fits
	Rear, Lead         Step          // front ends by the first and by the second flash
	Apart              float64       // graduations from Rear to Lead, by the scale
	First, Last        int           // indices of the lines that both flashes show
	Evidence           float64       // log-likelihood of two combs over one

	Score float64 // Evidence over all that both flashes show, less what front ends and lines disagree by

	// the second flash's lines do not run up to its front end: no reading, but it may speak against
	// another
	doubtful bool
}

const (
	fewestTwin    = 8     // graduations that must show both flashes
	twinPairs     = 4     // pairs of edges fitted
	twinInflate   = 2.0   // of the variances, as neighbouring samples share pixels and compression
	twinPlacing   = 0.08  // px, standard uncertainty of Moved that more lines do not reduce: overlaps, tone curve
	twinCovered   = 0.018 // graduations, the same of lines that fall nearly together
	twinLeastMove = 0.6   // graduations: edges closer than that cannot be told apart
	twinMostMove  = 60    // graduations
	twinSure      = 20.0  // log-likelihood by which two combs must beat one, and any other reading of the picture
	twinAgree     = 0.45  // graduations, most by which front ends and lines may differ
)

// FitTwin looks for two images of the ruler in a row's face: two front ends, and two combs of
// lines as far apart. nil where there are none. The spec must say which way the front end points.
func FitTwin(row Row, face Face, spec Spec) *TwinRow {
	l, ok := fitLattice(row.Marks)
	forward := candidate{row: row}.forward(spec)
	if !ok || forward == 0 {
		return nil
	}
	f := twinFitter{row: row, face: face, spec: spec, lattice: &l, forward: float64(forward)}
	if !f.straighten() {
		return nil
	}
	var best, next *TwinRow
	for f.stride = 1; f.stride <= 3; f.stride++ {
		if !f.findCombs() {
			continue
		}
		for _, p := range f.pairs() {
			t := f.fit(p)
			switch {
			case t == nil || t.Evidence < twinSure:
			case best == nil:
				best = t
			case t.Score > best.Score:
				best, next = t, rival(best, next, t)
			default:
				next = rival(t, next, best)
			}
		}
	}
	if best == nil || next != nil && best.Score-next.Score < twinSure || !best.sound() || best.doubtful {
		return nil
	}
	return best
}

// sound says whether front ends and lines agree, and the front ends are straight edges across the ruler.
func (t *TwinRow) sound() bool {
	return math.Abs(t.Apart-t.Moved) < twinAgree && min(t.Rear.Coherent, t.Lead.Coherent) > 0.7
}

// rival is the better of two other fits, where they differ from the best in what they say.
func rival(a, b, best *TwinRow) *TwinRow {
	var out *TwinRow
	for _, t := range []*TwinRow{a, b} {
		if t != nil && math.Abs(t.Moved-best.Moved)+math.Abs(t.Rear.T-best.Rear.T)/math.Abs(best.B)*best.Half > 0.5 && (out == nil || t.Score > out.Score) {
			out = t
		}
	}
	return out
}

// twinFitter is a search for two images in one row.
type twinFitter struct {
	row     Row
	face    Face
	spec    Spec
	lattice *lattice
	forward float64 // +1: the front end lies towards rising T

	// Two combs half a pitch apart look like one of half the pitch: stride of the row's assumed
	// pitches make a graduation.
	stride  float64
	correct func(u float64) float64 // of the lattice's index
	safe    flatFace                // where both flashes surely show lines
	power   []float64               // of each of its bands
	pattern pattern
	start   twinStart
}

// index is the place of t on the scale in graduations, as far as it is known before the fit.
func (f *twinFitter) index(t float64) float64 {
	u := f.lattice.index(t)
	return (u + f.correct(u)) / f.stride
}

func (f *twinFitter) indices(flat flatFace) []float64 {
	u := make([]float64, len(flat.t))
	for i, t := range flat.t {
		u[i] = f.index(t)
	}
	return u
}

// straighten takes the part of the face away from the front end, where both combs surely lie, and
// corrects the scale by it.
func (f *twinFitter) straighten() bool {
	m := f.row.Marks
	lo, hi := m[0].T, m[len(m)-1].T
	if cut := min(14*f.row.Pitch, 0.4*(hi-lo)); f.forward > 0 {
		hi -= cut
	} else {
		lo += cut
	}
	f.safe = f.face.flat(lo, hi, 20*f.row.Pitch)
	if len(f.safe.band) < 3 || hi-lo < fewestTwin*f.row.Pitch {
		return false
	}
	f.power = f.safe.power()
	for j := range f.power {
		f.power[j] = f.power[j]/float64(len(f.safe.t)) + 1e-9
	}
	f.stride, f.correct = 1, func(float64) float64 { return 0 }
	f.correct = f.safe.straighten(f.indices(f.safe))
	return true
}

// findCombs finds pattern and phases of the two combs.
func (f *twinFitter) findCombs() bool {
	u := f.indices(f.safe)
	if math.Abs(u[len(u)-1]-u[0]) < fewestTwin {
		return false
	}
	f.start.cost = math.Inf(1)
	for _, p := range patterns() {
		if f.spec.Graduation > 0 && !isStated(p.graduation, f.spec) {
			continue
		}
		if s := f.safe.coarse(u, combsOf(p)); s.cost < f.start.cost {
			f.pattern, f.start = p, s
		}
	}
	return !math.IsInf(f.start.cost, 1)
}

// twinPair is a pair of edges across the ruler that may be its front end as two flashes show it,
// and where the fit of the combs begins for it.
type twinPair struct {
	rear, lead Step
	start      twinStart
	weight     float64
}

// pairs lists the edges, alike in sense, that lie as far apart as the combs, up to whole periods
// of the pattern, and where front_mm says; the likeliest first.
func (f *twinFitter) pairs() []twinPair {
	var all []twinPair
	swapped := f.start
	swapped.x, swapped.d = f.start.x+f.start.d, -f.start.d
	for _, a := range f.row.Steps {
		for _, b := range f.row.Steps {
			w := f.weight(a, b)
			if w == 0 {
				continue
			}
			for _, s := range []twinStart{f.start, swapped} {
				if p := (twinPair{a, b, s, w}); f.suits(&p) {
					all = append(all, p)
				}
			}
		}
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].weight > all[j].weight })
	return all[:min(len(all), twinPairs)]
}

// weight says how well two edges may be the two front ends, 0 where they cannot.
func (f *twinFitter) weight(rear, lead Step) float64 {
	last := f.row.Marks[len(f.row.Marks)-1].T
	if f.forward < 0 {
		last = f.row.Marks[0].T
	}
	apart := f.forward * (f.index(lead.T) - f.index(rear.T))
	beyond := f.forward * (f.index(lead.T) - f.index(last))
	lo, hi := math.Abs(rear.Contrast), math.Abs(lead.Contrast)
	if lo > hi {
		lo, hi = hi, lo
	}
	if apart < twinLeastMove || apart > twinMostMove || rear.Contrast*lead.Contrast <= 0 || lo < hi/6 ||
		beyond < -strayMarks || beyond > endReach {
		return 0
	}
	return lo * rear.Coherent * lead.Coherent / (1 + 0.05*max(0, beyond))
}

// suits brings a pair's start to the whole period nearest to its edges, and weighs how well they agree.
func (f *twinFitter) suits(p *twinPair) bool {
	period := float64(f.pattern.classes[0].period)
	apart := f.index(p.lead.T) - f.index(p.rear.T)
	p.start.d += period * math.Round((apart-p.start.d)/period)
	p.start.gain = min(3, max(1.0/3, math.Abs(p.lead.Contrast/p.rear.Contrast)))
	off := apart - p.start.d
	if math.Abs(off) > 1 || p.start.d*f.forward <= 0 {
		return false
	}
	p.weight *= math.Exp(-0.5 * math.Pow(off/0.4, 2))
	if f.spec.Front != nil {
		front := f.index(p.rear.T) - p.start.x + f.forward**f.spec.Front/f.pattern.graduation
		// the longest lines and the second longest are told apart later
		front -= period / 2 * math.Round(2*front/period)
		p.weight *= max(1e-3, math.Exp(-0.5*math.Pow(front/0.5, 2)))
	}
	return true
}

// fit refines two combs behind a pair of front ends.
func (f *twinFitter) fit(p twinPair) *TwinRow {
	pitch := f.row.Pitch * f.stride
	lo, hi := f.row.Marks[0].T, p.rear.T-pitch
	if f.forward < 0 {
		lo, hi = p.rear.T+pitch, f.row.Marks[len(f.row.Marks)-1].T
	}
	if hi-lo < fewestTwin*pitch {
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
	t := m.result(p, f.pattern)
	t.doubtful = !upTo
	t.Evidence = m.evidence(flat, first|second) - max(m.evidence(flat, first), m.evidence(flat, second))
	t.Score = m.explained(flat, first|second, f.power)
	// Between the two front ends only the second flash shows the ruler.
	lo, hi = min(p.rear.T, p.lead.T)+0.3*pitch, max(p.rear.T, p.lead.T)-0.3*pitch
	if between := f.face.flat(lo, hi, 20*pitch); len(between.band) > 0 {
		t.Score += m.explained(between, second, f.power)
	}
	t.Score += 60 * (t.Rear.Coherent + t.Lead.Coherent)
	t.judge(f.spec, f.forward, float64(f.pattern.classes[0].period))
	return t
}

// model fits two combs from a start. Where every line of one image stands on one of the other, or midway
// between two, the picture looks the same to both sides of the start: both are tried.
func (f *twinFitter) model(flat flatFace, s twinStart) *twinModel {
	const aside = 0.07 // graduations
	u, combs := f.indices(flat), combsOf(f.pattern)
	starts := []float64{s.d}
	if 2*s.d == math.Round(2*s.d) {
		starts = []float64{s.d - aside, s.d + aside}
	}
	var best *twinModel
	least := math.Inf(1)
	for _, d := range starts {
		s.d = d
		m, ok := newTwinModel(flat, combs, u, s)
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

// linesUpTo says whether the second flash's lines run up to its front end and no further, but for the
// blank margin that front_mm tells of.
func (f *twinFitter) linesUpTo(m *twinModel, p twinPair) bool {
	if f.spec.Front == nil {
		return true
	}
	margin := max(0, -*f.spec.Front/f.pattern.graduation)
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
	part := m.p[pMoved]/float64(f.pattern.classes[0].period) - 0.5
	return math.Abs(part-math.Round(part)) > 0.1 || last > 0.2
}

// linesIn is how strong the second flash's lines are in a part of the face, in graduations from its
// front end on, against what they usually are; where the part is too short to tell, 0.4.
func (f *twinFitter) linesIn(m *twinModel, front float64, part [2]float64) float64 {
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

// result turns a fitted model into plain values.
func (m *twinModel) result(p twinPair, q pattern) *TwinRow {
	t := &TwinRow{A: m.p[pA], B: m.p[pB], C: m.p[pC], Mid: m.mid, Half: m.half, Moved: m.p[pMoved],
		Gain: math.Exp(m.p[pGain]), Graduation: q.graduation, Rear: p.rear, Lead: p.lead}
	// Lines that half cover each other are told apart by their shape alone, which the flash's tail
	// bends.
	near := t.Moved - math.Round(t.Moved)
	covered := twinCovered * math.Exp(-0.5*near*near/(0.25*0.25))
	t.MovedU = math.Hypot(math.Sqrt(twinInflate*m.cov.At(pMoved, pMoved)),
		math.Hypot(covered, twinPlacing*m.half/math.Abs(m.p[pB])))
	for r := range t.Cov {
		for c := range t.Cov[r] {
			t.Cov[r][c] = twinInflate * m.cov.At(r, c)
		}
	}
	n := len(m.face.t)
	a, b := m.index(m.p, m.face.t[0]), m.index(m.p, m.face.t[n-1])
	t.First, t.Last = int(math.Ceil(min(a, b))), int(math.Floor(max(a, b)))
	t.Apart = m.index(m.p, p.lead.T) - m.index(m.p, p.rear.T)
	t.Residual = math.Sqrt(t.Cov[0][0] * float64(t.Last-t.First+1))
	return t
}

// judge takes off what front ends and lines disagree by.
func (t *TwinRow) judge(spec Spec, forward, period float64) {
	t.Score -= 0.5 * min(math.Pow((t.Apart-t.Moved)/0.15, 2), 100)
	if spec.Front != nil {
		d := t.index(t.Rear.T) + forward**spec.Front/t.Graduation
		d -= period * math.Round(d/period)
		t.Score -= 0.5 * min(math.Pow(d/0.3, 2), 100)
	}
}

func (t *TwinRow) index(x float64) float64 { return t.Mid + t.Half*(x-t.A)/(t.B-t.C*x) }
