package ruler

import (
	"fmt"
	"math"
	"slices"

	"leadmark/fit/stat"
)

const (
	fewestMarks      = 10   // fewer prove no ruler
	filled           = 0.6  // share of the lines between first and last that must be seen
	sureEnough       = 20.0 // nats, of sureness
	evenAtMost       = 11.0 // nats, of it that evenness can give
	hiddenStretch    = 6    // lines missing in a row are hidden, not absent
	chanceUnevenness = 0.12 // median deviation from a scale, in pitches, of a row followed by chance
	ownPlace         = 0.15 // of a pitch: a line printed so far off the scale is still that line
	plainlyStated    = 3e-4 // relative; stated graduations further off the usual ones are spoken of
	halfDoubt        = 10.0 // nats, against a graduation of twice the stated one
	tellApart        = 8.0  // nats, by which another division must be less likely not to be spoken of
	phaseSure        = 4.0  // nats, by which one place of the longest lines must be better than another
)

// Interpret reads the best row of a sighting. A picture that cannot be read gives a Reading
// of status refused with its reason; it never fails otherwise.
func Interpret(s Sighting, spec Spec) Reading {
	if len(s.Rows) == 0 {
		return refuse(s.Refusal)
	}
	if spec.Twin {
		return interpretTwin(s, spec)
	}
	cands := candidates(s, spec)
	if len(cands) == 0 {
		return refuse(whyNoRow(s))
	}
	best := choose(cands, spec).foremost(cands, spec)
	r := best.read(s, spec)
	if other, ok := secondRuler(best, cands); ok {
		r.Warnings = append(r.Warnings, Reason{"two-rulers", fmt.Sprintf(
			"a second ruler lies at about (%.0f, %.0f) px; the one at (%.0f, %.0f) px was read",
			other.X, other.Y, best.middle().X, best.middle().Y)})
	}
	return r
}

func refuse(why Reason) Reading {
	if why.Code == "" {
		why = Reason{"no-ruler", "no row of regular graduations was found"}
	}
	return Reading{Status: StatusRefused, Reason: why}
}

// candidate is a row that can be graduations, with its scale.
type candidate struct {
	row     Row
	lattice lattice
	lengths *rowLengths // nil where the row was not read by them
	matches []match     // every pattern's best
	match   match       // the pattern believed, zero where none is
	score   float64
	coded   bool     // a code stands beside the row
	code    *codeFix // what it says; nil where it was not read
	refusal Reason   // why a code that was read is not to be believed
}

// candidates are the rows that are regular enough.
func candidates(s Sighting, spec Spec) []candidate {
	var out []candidate
	for _, row := range s.Rows {
		l, ok := fitLattice(row.Marks)
		if !ok || l.used < fewestMarks {
			continue
		}
		c := candidate{row: row, lattice: l, lengths: lengthsOf(row, &l)}
		c.matches = identify(row, c.lengths)
		c.match = believed(c.matches, spec)
		c.readCode(spec)
		if c.code == nil && full(row.Marks) < filled { // a code that is read proves the lines it lies between
			continue
		}
		// Pins, fences and fabric are as even as a ruler, but have no longer lines in its order.
		if c.match.graduation == 0 || sureness(row, &l, c.match)+spec.Like.sureness(row) < needed(c.match.pattern,
			len(row.Marks)) {
			continue
		}
		c.score = float64(l.used) * (1 + max(0, min(1, c.match.evidence/40)))
		out = append(out, c)
	}
	return out
}

// sureness is the evidence, in nats, that a row of marks is a ruler's, of two kinds. How even the
// marks stand, against the unevenness that letters, fabric and the like reach when a row is
// followed through them mark by mark, tells regular things from chance, but counts up to evenAtMost
// only: fences, keys, bricks and teeth are as even as rulers. Lines of different lengths in a
// ruler's order are what those lack. Over some 400 drawn patterns without a ruler the lengths never
// gave more than 6 nats, over readable rulers hardly less than 20.
func sureness(row Row, l *lattice, m match) float64 {
	dev := make([]float64, 0, len(row.Marks))
	for i, k := range row.Marks {
		dev = append(dev, math.Abs(l.res[i])/l.pitch(float64(k.Index)))
	}
	even := float64(len(row.Marks)) * math.Log(chanceUnevenness/max(0.005, stat.Median(slices.Clone(dev))))
	return min(evenAtMost, even) + m.evidence + min(0, wholeness(row.Marks))
}

// wholeness is the evidence, in nats, of the lines seen and missing in a row's inside for its being
// printed, of which few are lost to scratches and glare, against a row followed by chance, which
// misses many.
func wholeness(marks []Mark) float64 {
	const lost, missed = 0.03, 0.2
	seen, expected := count(marks)
	return float64(seen)*math.Log((1-lost)/(1-missed)) + float64(expected-seen)*math.Log(lost/missed)
}

// sureness is the evidence, in nats, of a row's pitch and axis for being those of the other frames'
// ruler: the logarithm of how much likelier they are to agree so well than those of anything else,
// whose pitch may be any of 3 to 40 px and whose axis any.
func (k *Like) sureness(row Row) float64 {
	const nearPitch, nearAxis = 0.05, 0.05 // relative; rad
	if k == nil || math.Abs(math.Log(row.Pitch/k.Pitch)) > nearPitch || math.Abs(row.Dir.Cross(k.Dir)) > nearAxis {
		return 0
	}
	return math.Log(math.Log(40.0/3)/(2*nearPitch)) + math.Log(math.Pi/(2*nearAxis))
}

// needed is how sure a row must be, in nats. A ruler whose divisions halve shows their lengths
// clearly, so that every line adds to its evidence: over drawn rulers never less than 1.9 nats a
// line in long rows, where lines of text and the like that happen to alternate gave 1.2 at most.
func needed(p pattern, lines int) float64 {
	const fewLines, everyLine = 20, 1.5
	if !p.halves() {
		return sureEnough
	}
	return sureEnough + everyLine*float64(max(0, lines-fewLines))
}

// full is the share of lines that are seen between the first and the last, stretches that
// something hides left out: those that lie between two unbroken rows. Some scales carry only
// their tens past the first of them.
func full(marks []Mark) float64 {
	seen, expected := count(marks)
	return float64(seen) / float64(expected)
}

// count is how many lines are seen and how many would be, likewise.
func count(marks []Mark) (seen, expected int) {
	seen, expected = 1, 1
	for i := 1; i < len(marks); i++ {
		gap := marks[i].Index - marks[i-1].Index
		seen++
		if gap == 10 || gap > hiddenStretch && unbroken(marks[:i], -1) && unbroken(marks[i:], +1) {
			gap = 1
		}
		expected += gap
	}
	return seen, expected
}

// unbroken says whether a row begins (way +1) or ends (-1) with eight marks without a gap.
func unbroken(marks []Mark, way int) bool {
	const run = 8
	n := len(marks)
	if n < run {
		return false
	}
	if way > 0 {
		return marks[run-1].Index-marks[0].Index == run-1
	}
	return marks[n-1].Index-marks[n-run].Index == run-1
}

// whyNoRow tells too short a row from no ruler at all.
func whyNoRow(s Sighting) Reason {
	for _, row := range s.Rows {
		l, ok := fitLattice(row.Marks)
		if ok && l.used >= 6 && l.used < fewestMarks && l.rms < 0.05*l.pitch(l.mid) {
			return Reason{"too-few-graduations", fmt.Sprintf(
				"only %d graduations can be seen; %d are needed: show more of the ruler, or light it better",
				l.used, fewestMarks)}
		}
	}
	return Reason{"no-ruler", "no row of regular graduations was found; is the ruler in the light and in focus?"}
}

// believed returns the pattern of most evidence; of those of the stated graduation where one is
// stated, which then is its graduation.
func believed(all []match, spec Spec) match {
	var best match
	for _, m := range all {
		if spec.Graduation > 0 && !isStated(m.graduation, spec) {
			if m.evidence -= halfDoubt; !m.halfSeen(spec) {
				continue
			}
		}
		if m.evidence > best.evidence {
			best = m
		}
	}
	return best.stated(spec)
}

// choose picks the row to read: of the stated graduation, else millimetres before inches, else
// the clearest.
func choose(cands []candidate, spec Spec) candidate {
	best, top := cands[0], math.Inf(-1)
	for _, c := range cands {
		v := c.score
		if spec.Graduation > 0 && c.match.graduation > 0 {
			v *= 3
		}
		if spec.Graduation == 0 && c.match.unit == "inch" {
			v /= 3
		}
		if v > top {
			best, top = c, v
		}
	}
	return best
}

func (c candidate) middle() Point {
	return c.row.Origin.Add(c.row.Dir.Mul(c.lattice.at(0)))
}

// foremost is the part of the same ruler that lies nearest its front end, where something hides the
// ruler in between: the end that a part shows is else that of what hides it.
func (c candidate) foremost(all []candidate, spec Spec) candidate {
	forward := c.forward(spec)
	if forward == 0 {
		return c
	}
	best := c
	for _, o := range all {
		if c.continues(o.row) && o.match.graduation == c.match.graduation &&
			float64(forward)*c.row.Along(o.middle()) > float64(forward)*c.row.Along(best.middle()) {
			best = o
		}
	}
	return best
}

// continues says whether another row lies along the same line with the same pitch, as far as
// perspective allows, past this one's end.
func (c candidate) continues(o Row) bool {
	first, last := c.row.Marks[0].T, c.row.Marks[len(c.row.Marks)-1].T
	mid := o.Origin.Add(o.Dir.Mul((o.Marks[0].T + o.Marks[len(o.Marks)-1].T) / 2))
	t := c.row.Along(mid)
	off := math.Abs(c.row.Dir.Cross(mid.Sub(c.row.Origin)))
	return math.Abs(c.row.Dir.Cross(o.Dir)) < 0.03 && math.Abs(o.Pitch/c.row.Pitch-1) < 0.15 &&
		off < c.row.HalfLength+o.HalfLength && (t < first || t > last)
}

// secondRuler looks for a row that cannot belong to the same ruler as the one chosen: not
// parallel to it, or far to its side.
func secondRuler(best candidate, all []candidate) (Point, bool) {
	for _, c := range all {
		if c.score < 0.4*best.score {
			continue
		}
		d := c.middle().Sub(best.middle())
		parallel := math.Abs(best.row.Dir.Cross(c.row.Dir)) < 0.05
		// Rulers are hardly wider than 60 of their graduations.
		if !parallel || math.Abs(best.row.Dir.Cross(d)) > 60*best.row.Pitch {
			return c.middle(), true
		}
	}
	return Point{}, false
}

// forward is +1 where the front end lies towards rising T, -1 where falling, 0 where that is
// not known.
func (c candidate) forward(spec Spec) int {
	d := c.row.Dir.Dot(spec.Toward)
	switch {
	case d > 0.5:
		return +1
	case d < -0.5:
		return -1
	}
	return 0
}

// read turns a row into a Reading.
func (c candidate) read(s Sighting, spec Spec) Reading {
	r := Reading{Status: StatusRead, Unit: c.match.unit, Graduation: c.match.graduation, Tone: c.row.Tone,
		CodeSeen: c.coded}
	if n := c.match.nominal; n > 0 && math.Abs(r.Graduation/n-1) > plainlyStated {
		r.Warnings = append(r.Warnings, Reason{"graduation-stated", fmt.Sprintf(
			"graduation_mm is %.5g, %+.2f %% off the %.5g mm of such rulers; the stated value was used: "+
				"right for a print measured by its bar, wrong if it was only rounded",
			1e3*r.Graduation, 100*(r.Graduation/n-1), 1e3*n)})
	}
	if other, unsure := c.rival(spec); unsure {
		r.Warnings = append(r.Warnings, Reason{"graduation-unsure", fmt.Sprintf(
			"the lines may be %.4g mm apart as well as %.4g mm, and the whole scale with them: state the "+
				"graduation, or show two more of the numbered lines",
			1e3*other.graduation, 1e3*r.Graduation)})
	}
	num := c.number(&r, spec)
	r.Scale = c.lattice.scale(c.row, num)
	r.Scale.Width = r.Scale.width(c.row.Sides[1], c.lattice.at(0))
	mid := num.reading(c.lattice.mid)
	r.PxPerM = r.Scale.PxPerM(mid)
	r.U = math.Sqrt(c.lattice.rms*c.lattice.rms/float64(max(1, c.lattice.used)) + 0.03*0.03)
	if r.Front != nil {
		r.Front.Reading = r.Scale.Reading(r.Scale.Along(r.Front.At))
	}
	end := r.Front
	if spec.Band {
		end = nil // the ruler goes on past its band
	}
	r.Graduations = c.graduations(num, end)
	r.Outline = c.outline(r)
	return r
}

// rival is another division of the same unit that suits the lines about as well, where none is stated.
func (c candidate) rival(spec Spec) (match, bool) {
	if spec.Graduation > 0 || c.code != nil {
		return match{}, false
	}
	for _, m := range c.matches {
		if m.unit == c.match.unit && m.graduation != c.match.graduation &&
			m.evidence+m.rare > c.match.evidence+c.match.rare-tellApart {
			return m, true
		}
	}
	return match{}, false
}

// graduations lists every line from the first to the last seen, none past the front end.
func (c candidate) graduations(num numbering, front *End) Graduations {
	first, last := c.row.Marks[0].Index, c.row.Marks[len(c.row.Marks)-1].Index
	if front != nil {
		end := c.lattice.index(c.row.Along(front.At))
		for ; first <= last && c.past(float64(first), end); first++ {
		}
		for ; first <= last && c.past(float64(last), end); last-- {
		}
	}
	seen := map[int]Mark{}
	for i, k := range c.row.Marks {
		if math.Abs(c.lattice.res[i]) < ownPlace*c.lattice.pitch(float64(k.Index)) {
			seen[k.Index] = k
		}
	}
	out := Graduations{Axis: c.row.Axis(), First: num.reading(float64(first)), Step: num.step}
	for i := first; i <= last; i++ {
		k, ok := seen[i]
		t := k.T
		if !ok {
			t = c.lattice.at(c.lattice.m(float64(i)))
		}
		out.T, out.Seen = append(out.T, float32(t)), append(out.Seen, ok)
	}
	if num.step < 0 {
		slices.Reverse(out.T)
		slices.Reverse(out.Seen)
		out.First, out.Step = num.reading(float64(last)), -num.step
	}
	return out
}

// past says whether a line lies past an end of the ruler, seen from the middle of the row.
func (c candidate) past(index, end float64) bool {
	if end > c.lattice.mid {
		return index > end+0.8
	}
	return index < end-0.8
}

// outline is the part of the ruler that was found: from its first mark, or front end, to its
// last, between its long edges where those were found.
func (c candidate) outline(r Reading) [4]Point {
	m := c.row.Marks
	ta, tb := m[0].T, m[len(m)-1].T
	if r.Front != nil {
		t := r.Scale.Along(r.Front.At)
		ta, tb = min(ta, t), max(tb, t)
	}
	corner := func(t float64, side int) Point {
		at := c.row.Origin.Add(c.row.Dir.Mul(t))
		across := Line{at, at.Add(c.row.MarkDir(t))}
		if edge := c.row.Sides[side]; edge != nil {
			if p, ok := across.Meet(*edge); ok {
				return p
			}
		}
		w := -c.row.HalfLength
		if side == 1 {
			w = c.row.HalfLength + 8*c.row.Pitch
		}
		return at.Add(c.row.MarkDir(t).Mul(w))
	}
	return [4]Point{corner(ta, 0), corner(tb, 0), corner(tb, 1), corner(ta, 1)}
}
