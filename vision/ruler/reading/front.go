package reading

import (
	"math"

	"leadmark/vision/ruler"
	"leadmark/vision/ruler/scale"
)

const (
	fewMissing = 2.5 // graduations: so many lines may be missing up to any end
	// of the lines side by side that must agree on an end where the ruler may as well leave the
	// picture; numerals take less
	plainShare = 0.8
	faintEnd   = 0.4 // of the marks' contrast: ends and bands that are less plain are doubted
)

// frontOf picks, among the edges across the ruler, its end on the side that forward points to
// (+1: rising T), favouring edges that agree with what is known of its reading.
func frontOf(row ruler.Row, l *scale.ByIndex, forward int, known frontKnown) (ruler.Step, bool) {
	last := row.Marks[len(row.Marks)-1]
	if forward < 0 {
		last = row.Marks[0]
	}
	var best ruler.Step
	score := 0.0
	for _, s := range row.Steps {
		beyond := float64(forward) * (l.Index(s.T) - float64(last.Index))
		if beyond < -ruler.StrayMarks && !chanceBeyond(row, l, s, forward) || beyond > ruler.EndReach {
			continue
		}
		if known.alone && s.Coherent < plainShare {
			continue // numerals, as a rule
		}
		if known.missing(l.Index(s.T), last.Index, forward) > fewMissing &&
			(math.Abs(s.Contrast)*s.Coherent < faintEnd*row.Contrast || known.begins(last.Index, forward)) {
			continue // lines would have to be missing up to it, and it is no plain end either, or none is missing
		}
		v := math.Abs(s.Contrast) * s.Coherent * known.likelihood(l.Index(s.T))
		// What lies nearer the marks is the ruler's own; further edges are the scene's.
		v /= 1 + 0.05*max(0, beyond)
		if beyond < -0.6 {
			if math.Abs(s.Contrast) < 1.5*row.Contrast {
				continue // print on the ruler, not its end
			}
			v *= 0.7
		}
		if v > score {
			best, score = s, v
		}
	}
	return best, score > 0
}

// chanceBeyond says whether the marks past an edge, which is far plainer than they are, are too few
// to be the ruler's: a row of faint marks may have been followed into the backdrop's grain.
func chanceBeyond(row ruler.Row, l *scale.ByIndex, s ruler.Step, forward int) bool {
	const plainer, chance = 5, 0.75 // times the marks' contrast; share of the lines seen
	if math.Abs(s.Contrast)*s.Coherent < plainer*row.Contrast {
		return false
	}
	var past []ruler.Mark
	for i, k := range row.Marks {
		if float64(forward)*(k.T-s.T) > 0 && l.Weight[i] > 0 {
			past = append(past, k)
		}
	}
	return len(past) == 0 || full(past) < chance
}

// frontKnown is what is known of the front end's reading before it is looked for.
type frontKnown struct {
	index  float64 // index that the stated reading would have, up to whole periods
	period float64 // 0: unknown
	alone  bool    // nothing is known, not even that there is an end on this side
	margin float64 // graduations without lines between the zero line and the end
}

// missing is how many lines between the last one seen and the front end at an index should be there
// and are not.
func (k frontKnown) missing(index float64, last, forward int) float64 {
	if k.period == 0 {
		return 0
	}
	return float64(forward)*(index-float64(last)) - k.margin
}

// begins says whether the last line seen may be the ruler's first: the longest lines stand as they
// would then. That lines end there by chance happens to one covered ruler in ten.
func (k frontKnown) begins(last, forward int) bool {
	if k.period == 0 {
		return false
	}
	d := (float64(last) + float64(forward)*k.margin - k.index) / k.period
	return math.Abs(d-math.Round(d))*k.period < 0.5
}

// likelihood is 1 where an index agrees with what is known, and falls to a fiftieth where not.
func (k frontKnown) likelihood(index float64) float64 {
	if k.period == 0 {
		return 1
	}
	d := (index - k.index) / k.period
	off := math.Abs(d-math.Round(d)) * k.period
	return max(0.02, math.Exp(-0.5*math.Pow(off/0.4, 2)))
}

// end turns a step into the ruler's end, on the ruler's long axis.
func (c candidate) end(s ruler.Step) *ruler.End {
	at, ok := middleLine(c.row).Meet(s.Line)
	if !ok {
		at = c.row.Origin.Add(c.row.Dir.Mul(s.T))
	}
	mid := s.Line.A.Add(s.Line.B).Mul(0.5)
	u := math.Hypot(math.Hypot(s.U, s.TurnU*at.Sub(mid).Len()), motionBlurU(c.row))
	return &ruler.End{At: at, Line: s.Line, U: u, WidthPX: s.WidthPX}
}
