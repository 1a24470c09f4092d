package ruler

import (
	"math"
	"sort"
)

// pattern is a way rulers tell their lines apart by length.
type pattern struct {
	unit       string
	graduation float64 // m
	classes    []class // the longest first
	rare       float64 // nats that it must be better by than the commonest of its unit
	gaps       bool    // what is counted are the gaps between its lines, each as long as the longer line beside it
}

// class is the lines whose count from the zero line leaves rest on division by period.
type class struct{ period, rest int }

// The international inch is 25.4 mm exactly (NIST SP 811, appendix B.6).
const inch = 25.4e-3

// patterns are the common rulers. Common practice, no source: lines of 10 and 5 mm, and of
// each half of an inch, are longer than those between; and which divisions are rarer.
func patterns() []pattern {
	return []pattern{
		{unit: "mm", graduation: 1e-3, classes: []class{{10, 0}, {10, 5}}},
		{unit: "mm", graduation: 0.5e-3, classes: []class{{20, 0}, {20, 10}, {2, 0}}, rare: 2},
		{unit: "inch", graduation: inch / 8, classes: []class{{8, 0}, {8, 4}, {4, 2}}, rare: 2},
		{unit: "inch", graduation: inch / 16, classes: []class{{16, 0}, {16, 8}, {8, 4}, {4, 2}}},
		{unit: "inch", graduation: inch / 32, classes: []class{{32, 0}, {32, 16}, {16, 8}, {8, 4}, {4, 2}}, rare: 5},
	}
}

// match is how well a pattern explains the lengths of a row's marks.
type match struct {
	pattern
	phase    int     // index of a line of the longest class
	either   bool    // or of the next: none of one of the two is in view, by which they could be told apart
	evidence float64 // nats, for the pattern against equal lengths; negative infinity where another order explains them as well
	nominal  float64 // m, the pattern's own graduation where another is stated; else 0
}

// period is after how many graduations the longest lines come again, as far as it is known: the next longest lie midway.
func (m match) period() float64 {
	p := float64(m.classes[0].period)
	if m.either {
		return p / 2
	}
	return p
}

// isStated says whether a graduation is the one stated: printed rulers come out up to 2 % longer
// or shorter than they were drawn.
func isStated(graduation float64, spec Spec) bool {
	return math.Abs(graduation/spec.Graduation-1) <= 0.02
}

// halfSeen says whether a graduation is twice the one stated in millimetres: of half millimetres every second line
// may be all that the picture resolves.
func (m match) halfSeen(spec Spec) bool {
	return m.unit == "mm" && math.Abs(m.graduation/(2*spec.Graduation)-1) <= 0.02
}

// stated gives the match the stated graduation, where one is.
func (m match) stated(spec Spec) match {
	if spec.Graduation > 0 && m.graduation > 0 {
		m.nominal, m.graduation = m.graduation, spec.Graduation*math.Round(m.graduation/spec.Graduation)
	}
	return m
}

// Orders are the evidence, in nats, that the lengths of what was followed along a row are those of marks in a ruler's order, and that they are
// those of the gaps between such marks, of which two seem long beside each longer mark; each against their being alike. pitch is the usual
// distance of neighbours, px.
func Orders(followed []Mark, pitch float64) (ofMarks, ofGaps float64) {
	ofMarks, ofGaps = math.Inf(-1), math.Inf(-1)
	l, ok := fitLattice(followed)
	if !ok {
		return ofMarks, ofGaps
	}
	row := Row{Marks: followed, Pitch: pitch}
	r := lengthsOf(row, &l)
	for _, m := range identify(row, r) {
		ofMarks = max(ofMarks, m.evidence)
	}
	for _, p := range patterns() {
		ofGaps = max(ofGaps, likeliest(r.at(p.ofGaps(), 0, p.classes[0].period)).evidence)
	}
	return ofMarks, ofGaps
}

// ofGaps is the pattern of the gaps between lines. Where lines halve, each gap lies beside one of the longer of the two shortest classes, and the
// shortest does not show.
func (p pattern) ofGaps() pattern {
	p.gaps = true
	if p.halves() {
		p.classes = p.classes[:len(p.classes)-1]
	}
	return p
}

// identify returns every pattern's best match.
func identify(row Row, r *rowLengths) []match {
	var out []match
	for _, p := range patterns() {
		out = append(out, likeliest(r.at(p, 0, p.classes[0].period)))
	}
	if n, phase := tensAlone(row.Marks); n >= 3 {
		// Each line that falls on a ten by chance would do so once in ten.
		out[0].phase, out[0].evidence = phase, float64(n)*math.Log(10)
	}
	return out
}

// likeliest is the best match of a pattern.
func likeliest(all []match) match {
	best := all[0]
	for _, m := range all[1:] {
		if m.evidence > best.evidence {
			best = m
		}
	}
	return best
}

// rowLengths are the lengths of a row's marks, in pitches, with their counts, and how likely orders are that are no ruler's.
type rowLengths struct {
	n      []int
	length []float64
	alike  float64
	every  [longestTurn + 1]float64 // lengths that come again after so many; negative infinity for too few turns
}

// lengthsOf takes those that are seen whole.
func lengthsOf(row Row, l *lattice) *rowLengths {
	var r rowLengths
	most := longest(row)
	for i, k := range row.Marks {
		if l.weight[i] > 0 && !k.Cut {
			r.n = append(r.n, k.Index)
			r.length = append(r.length, min(k.Length, most)/row.Pitch)
		}
	}
	level(r.n, r.length)
	r.alike = withOdd([][]float64{r.length})
	for every := range r.every {
		if r.every[every] = math.Inf(-1); every >= 2 && (every == 2 || every*fewestTurns <= len(r.n)) {
			r.every[every] = everyNth(r.n, r.length, every)
		}
	}
	return &r
}

const (
	longestTurn = 9
	fewestTurns = 5
)

// simplest is the likelihood of the best order that is no ruler's: every second length another, as on zips, fins and stitches, or every n-th,
// where the pattern does not repeat so: keys come again after seven.
func (r *rowLengths) simplest(p pattern) float64 {
	best := r.every[2]
	for every := 3; every <= longestTurn; every++ {
		if p.classes[0].period%every != 0 {
			best = max(best, r.every[every])
		}
	}
	return best
}

// at weighs a pattern at each phase from one to below another.
func (r *rowLengths) at(p pattern, from, to int) []match {
	simple := r.simplest(p)
	// Schwarz's penalty (1978, Ann. Statist. 6:461) for each further mean; the phase is one more thing
	// chosen to suit.
	penalty := 0.5*float64(len(p.classes))*math.Log(float64(len(r.n))) + math.Log(float64(p.classes[0].period)) + p.rare
	var out []match
	for phase := from; phase < to; phase++ {
		m := match{pattern: p, phase: phase, evidence: math.Inf(-1)}
		if by := p.sorted(r.n, r.length, phase); p.ordered(by) {
			m.either = len(by[1]) == 0
			likely := likelihood(by)
			m.evidence = likely - r.alike - penalty
			if p.halves() && !evenSteps(by) {
				m.evidence -= unevenSteps
			}
			if likely-penalty < simple+overSimple || p.alternates(r.n, r.length, phase) {
				m.evidence = math.Inf(-1)
			}
		}
		out = append(out, m)
	}
	return out
}

// alternates says whether the longest lines are by turns plainly longer and shorter, all but one, so that the order comes again after twice as
// many: so they are where a ruler's lines were followed at half their distance. A numeral lengthens some, but not by turns.
func (p pattern) alternates(n []int, length []float64, phase int) bool {
	const fewest, apart, odd = 7, 1.0, 1 // longest lines; pitches; lines
	var by [2][]float64
	for i, k := range n {
		if period := p.classes[0].period; (k-phase)%period == 0 {
			turn := (k - phase) / period & 1
			by[turn] = append(by[turn], length[i])
		}
	}
	if p.halves() || len(by[0])+len(by[1]) < fewest || min(len(by[0]), len(by[1])) == 0 {
		return false
	}
	one, two := middle(by[0]), middle(by[1])
	across := 0
	for turn, v := range by {
		for _, x := range v {
			if (x > (one+two)/2) != ((one > two) == (turn == 0)) {
				across++
			}
		}
	}
	return math.Abs(one-two) > apart && across <= odd
}

// level takes out of lengths what grows or shrinks along the row: the axis they are counted from need not run
// quite along the marks. In stretches of some ten marks the lower quartile is a shortest line's; the slope is the
// median of those between stretches (Sen 1968).
func level(n []int, length []float64) {
	const stretch = 10
	parts := len(n) / stretch
	var at, short []float64
	for k := range parts {
		i, j := k*len(n)/parts, (k+1)*len(n)/parts
		at, short = append(at, float64(n[i]+n[j-1])/2), append(short, lowest(length[i:j]))
	}
	var slopes []float64
	for i := range at {
		for j := i + 1; j < len(at); j++ {
			slopes = append(slopes, (short[j]-short[i])/(at[j]-at[i]))
		}
	}
	slope := middle(slopes)
	for i := range n {
		length[i] -= slope * float64(n[i]-n[0])
	}
}

// longest is how long a line of a row is taken to be at the most, px: a numeral or the ruler's end may seem to
// carry on some of the longest, and nothing is known by how much.
func longest(row Row) float64 {
	const most, beyond, short, timesShort = 0.85, 2, 0.25, 3.2
	v := make([]float64, len(row.Marks))
	for i, k := range row.Marks {
		v[i] = k.Length
	}
	sort.Float64s(v)
	at := func(share float64) float64 { return v[int(share*float64(len(v)-1))] }
	return min(12*row.Pitch, max(beyond*row.Pitch, beyond*at(most), timesShort*at(short)))
}

// sorted puts the lengths into their classes.
func (p pattern) sorted(n []int, length []float64, phase int) [][]float64 {
	by := make([][]float64, len(p.classes)+1)
	for i := range n {
		c := p.class(n[i] - phase)
		by[c] = append(by[c], length[i])
	}
	return by
}

const (
	leastGrain = 0.1  // pitches, of the lengths as they are seen
	oddLength  = 0.05 // share of lines whose length a scratch or an edge hides
	numbered   = 0.4  // and of the longest, which a numeral's stroke may seem to lengthen
	anyLength  = 10.0 // pitches over which such a length may lie
)

// lowest is the lower quartile: of the longest lines' lengths, a numeral may seem to lengthen some but nothing
// shortens them.
func lowest(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	s := append([]float64(nil), v...)
	sort.Float64s(s)
	return s[(len(s)+1)/4]
}

// likelihood is the logarithm of how likely lengths are that scatter normally about the median of their class
// (the lower quartile of the longest), by the scatter that the median of them shows, but for a share of odd ones that have any length.
func likelihood(by [][]float64) float64 {
	sum := 0.0
	for i, class := range densities(by) {
		odd := oddLength
		if i == 0 {
			odd = numbered
		}
		sum += mixed(class, odd)
	}
	return sum
}

// withOdd is the same with as many odd lengths in every class as suits them best.
func withOdd(by [][]float64) float64 {
	all := densities(by)
	best := math.Inf(-1)
	for _, odd := range []float64{oddLength, 0.1, 0.2, 0.35, 0.5} {
		sum := 0.0
		for _, class := range all {
			sum += mixed(class, odd)
		}
		best = max(best, sum)
	}
	return best
}

// everyNth is the same for lengths that come again after so many lines, less Schwarz's penalty for each further mean.
func everyNth(n []int, length []float64, every int) float64 {
	by := make([][]float64, every)
	for i, k := range n {
		c := (k%every + every) % every
		by[c] = append(by[c], length[i])
	}
	return withOdd(by) - 0.5*float64(every-1)*math.Log(float64(len(n)))
}

// mixed is the logarithm of how likely lengths are of which a share is odd.
func mixed(density []float64, odd float64) float64 {
	sum := 0.0
	for _, d := range density {
		sum += math.Log((1-odd)*d + odd/anyLength)
	}
	return sum
}

// densities are the normal densities of lengths about the middle of their class, by the scatter that all show together.
func densities(by [][]float64) [][]float64 {
	var all []float64
	dev := make([][]float64, len(by))
	for i, v := range by {
		m := usual(v)
		if i == 0 && len(by) > 1 {
			m = lowest(v)
		}
		for _, x := range v {
			dev[i] = append(dev[i], math.Abs(x-m))
		}
		all = append(all, dev[i]...)
	}
	sd := max(leastGrain, 1.4826*middle(all))
	for _, class := range dev {
		for k, d := range class {
			class[k] = math.Exp(-0.5*d*d/(sd*sd)) / (sd * math.Sqrt(2*math.Pi))
		}
	}
	return dev
}

// tensAlone counts the steps of ten at one end of a row, where a scale divided finely at its
// beginning goes on with its tens alone, and gives the index of one of them.
func tensAlone(marks []Mark) (n, phase int) {
	count := func(from, way int) int {
		k := 0
		for i := from; i+way >= 0 && i+way < len(marks) && way*(marks[i+way].Index-marks[i].Index) == 10; i += way {
			k++
		}
		return k
	}
	last := len(marks) - 1
	if k := count(last, -1); k > 0 {
		return k, marks[last].Index
	}
	return count(0, +1), marks[0].Index
}

// class is the class of what is at a count from the zero line; len(classes) for the shortest.
func (p pattern) class(count int) int {
	if p.gaps {
		return min(p.line(count), p.line(count+1))
	}
	return p.line(count)
}

// line is the class of a line.
func (p pattern) line(count int) int {
	for i, c := range p.classes {
		if ((count-c.rest)%c.period+c.period)%c.period == 0 {
			return i
		}
	}
	return len(p.classes)
}

// halves says whether every second line is longer than the next, as on half millimetres and inches. Much
// that is no ruler alternates; so there each class must differ from the next, which few things but rulers do.
func (p pattern) halves() bool { return len(p.classes) > 2 }

// unevenSteps is what a pattern loses, in nats, where its two longest classes are not apart as the others are.
const unevenSteps = 6.0

// overSimple is how many nats a pattern must be better than lines of which every second or third is another: over drawn rulers of 25
// lines and more never less than 3.
const overSimple = 1.0

const (
	clearlyLonger = 0.3  // pitches, the longest class against the shortest
	justLonger    = 0.15 // pitches, of each class against the next where they halve
)

// ordered says whether the first class is the longest and the last the shortest, clearly, and the others
// lie between them in their order.
func (p pattern) ordered(by [][]float64) bool {
	last := len(by) - 1
	if len(by[last]) == 0 || len(by[0]) == 0 {
		return false
	}
	least := -0.3 // lines of 5 and 10 mm may be of one length, with a numeral at some
	if p.halves() {
		least = justLonger
	}
	long := lowest(by[0])
	if long < middle(by[last])+clearlyLonger {
		return false
	}
	for i, v := range by[1:] {
		if len(v) == 0 {
			continue
		}
		m := usual(v)
		if i == 0 && m > long+0.3 || i > 0 && m > long-least {
			return false
		}
		if i+1 < last && m < middle(by[last])-0.1 {
			return false
		}
		long = m
	}
	return true
}

// usual is the middle length of a class; of two the longer: what covers a line shortens it, and a middle between a whole and a covered one
// is neither's. Of more the middle is safe from one, and the longer would favour what scatters.
func usual(v []float64) float64 {
	if len(v) == 2 {
		return max(v[0], v[1])
	}
	return middle(v)
}

// evenSteps says whether the longest lines are longer than the next by about as much as those are longer than the
// third: what a numeral adds to a line is more, and lines of one class, taken for two, differ by less.
func evenSteps(by [][]float64) bool {
	const least, most = 0.35, 3
	if len(by[1]) == 0 || len(by[2]) == 0 {
		return true
	}
	first, second := lowest(by[0])-lowest(by[1]), lowest(by[1])-middle(by[2])
	return first >= least*second && first <= most*second
}
