package scale

import (
	"math"
	"slices"
	"sort"

	"leadmark/fit/stat"
	"leadmark/vision/ruler"
)

// Lengths are the lengths of a row's marks, in pitches, with their counts, and how likely orders
// are that are no ruler's.
type Lengths struct {
	n      []int
	length []float64
	most   float64 // pitches, to which lengths are told
	alike  float64
	every  [longestTurn + 1]float64 // lengths that come again after so many; negative infinity for too few turns
}

// LengthsOf takes those that are seen whole.
func LengthsOf(row ruler.Row, l *ByIndex) *Lengths {
	var r Lengths
	most := longest(row)
	r.most = most / row.Pitch
	for i, k := range row.Marks {
		if l.Weight[i] > 0 && !k.Cut {
			r.n = append(r.n, k.Index)
			r.length = append(r.length, min(k.Length, most)/row.Pitch)
		}
	}
	level(r.n, r.length)
	r.alike = withOutliers([][]float64{r.length})
	for every := range r.every {
		if r.every[every] = math.Inf(-1); every >= 2 && (every == 2 || every*fewestTurns <= len(r.n)) {
			r.every[every] = everyNth(r.n, r.length, every)
		}
	}
	return &r
}

// simplest is the likelihood of the best order that is no ruler's: every second length another, as
// on zips, fins and stitches, or every n-th, where the pattern does not repeat so: keys come again
// after seven.
func (r *Lengths) simplest(p Pattern) float64 {
	best := r.every[2]
	for every := range r.every {
		if every > 2 && p.Classes[0].Period%every != 0 {
			best = max(best, r.every[every])
		}
	}
	return best
}

// best is a pattern's best match at any phase.
func (r *Lengths) best(p Pattern) Match {
	best := r.At(p, 0)
	for phase := 1; phase < p.Classes[0].Period; phase++ {
		if m := r.At(p, phase); m.Evidence > best.Evidence {
			best = m
		}
	}
	if half := p.Classes[0].Period / 2; p.midway() && r.At(p, best.Phase+half).Evidence > best.Evidence-halfTold {
		best.either = true
	}
	return best
}

// midway says whether the next longest lines stand midway between the longest.
func (p Pattern) midway() bool {
	return len(p.Classes) > 1 && p.Classes[1] == Class{p.Classes[0].Period, p.Classes[0].Period / 2}
}

// At weighs a pattern at a phase.
func (r *Lengths) At(p Pattern, phase int) Match {
	m := Match{Pattern: p, Phase: phase, Evidence: math.Inf(-1)}
	by := p.sorted(r.n, r.length, phase)
	if !p.ordered(by) {
		return m
	}
	m.either = len(by[1]) == 0 || p.Classes[min(1, len(p.Classes)-1)].Rest == 0 && len(by[0]) == 0
	// Schwarz's penalty (1978, Ann. Statist. 6:461) for each further mean; the phase is one more thing
	// chosen to suit.
	penalty := 0.5*float64(len(p.Classes))*math.Log(float64(len(r.n))) + math.Log(float64(p.Classes[0].Period))
	likely := likelihood(by)
	if likely-penalty < r.simplest(p)+overSimple || p.alternates(r.n, r.length, phase) {
		return m
	}
	m.Evidence = likely - r.alike - penalty - p.Rare
	if p.Halves() && !evenSteps(by, r.most) {
		m.Evidence -= unevenSteps
	}
	return m
}

// alternates says whether the longest lines are by turns plainly longer and shorter, all but one,
// so that the order comes again after twice as many: so they are where a ruler's lines were
// followed at half their distance. A numeral lengthens some, but not by turns.
func (p Pattern) alternates(n []int, length []float64, phase int) bool {
	if p.Halves() {
		return false
	}
	var by [2][]float64
	for i, k := range n {
		if period := p.Classes[0].Period; (k-phase)%period == 0 {
			turn := (k - phase) / period & 1
			by[turn] = append(by[turn], length[i])
		}
	}
	if len(by[0])+len(by[1]) < fewestByTurns || min(len(by[0]), len(by[1])) == 0 {
		return false
	}
	one, two := stat.Median(slices.Clone(by[0])), stat.Median(slices.Clone(by[1]))
	across := 0
	for turn, v := range by {
		for _, x := range v {
			if (x > (one+two)/2) != ((one > two) == (turn == 0)) {
				across++
			}
		}
	}
	return math.Abs(one-two) > turnsApart && across <= turnsOff
}

// level takes out of lengths what grows or shrinks along the row: the axis they are counted from
// need not run quite along the marks. In stretches of some ten marks the lower quartile is a
// shortest line's; the slope is the median of those between stretches (Sen 1968).
func level(n []int, length []float64) {
	parts := len(n) / stretch
	var at, short []float64
	for k := range parts {
		i, j := k*len(n)/parts, (k+1)*len(n)/parts
		at, short = append(at, float64(n[i]+n[j-1])/2), append(short, lowerQuartile(length[i:j]))
	}
	var slopes []float64
	for i := range at {
		for j := i + 1; j < len(at); j++ {
			slopes = append(slopes, (short[j]-short[i])/(at[j]-at[i]))
		}
	}
	slope := stat.Median(slices.Clone(slopes))
	for i := range n {
		length[i] -= slope * float64(n[i]-n[0])
	}
}

// longest is how long a line of a row is taken to be at the most, px: a numeral or the ruler's end
// may seem to carry on some of the longest, and nothing is known by how much.
func longest(row ruler.Row) float64 {
	v := make([]float64, len(row.Marks))
	for i, k := range row.Marks {
		v[i] = k.Length
	}
	sort.Float64s(v)
	at := func(share float64) float64 { return v[int(share*float64(len(v)-1))] }
	return min(longestLine*row.Pitch, max(beyondMost*row.Pitch, beyondMost*at(mostShare), timesShort*at(shortShare)))
}
