package reading

import (
	"math"
	"slices"

	"leadmark/vision/ruler"
	"leadmark/vision/ruler/scale"
)

// frontOf picks, among the edges across the ruler, its end on the side that forward points to (+1:
// rising T): where its reading is stated, the plainest of those that agree with it; else the first
// that is one from the marks outward, if nothing before it may be one as well.
func frontOf(row ruler.Row, l *scale.ByIndex, forward int, known frontKnown) (ruler.Step, bool) {
	var best, first ruler.Step
	score, open := 0.0, 0.0
	for _, s := range outward(row, l, forward) {
		index := l.Index(s.T)
		beyond := float64(forward) * (index - lastIndex(row, forward))
		if known.tells(index) && (s.End || s.Open && known.next(beyond)) {
			if v := math.Abs(s.Contrast) * s.Coherent / (1 + fartherLess*max(0, beyond)); v > score {
				best, score = s, v
			}
		}
		switch {
		case first.Contrast != 0:
		case s.End:
			first = s
		case s.Open:
			open = max(open, math.Abs(s.Contrast))
		}
	}
	if known.period > 1 {
		if score == 0 {
			best = first
		}
		return best, best.Contrast != 0
	}
	return first, math.Abs(first.Contrast)*blocks > open
}

// outward are the edges at which a row can end on a side, from the marks outward.
func outward(row ruler.Row, l *scale.ByIndex, forward int) []ruler.Step {
	var out []ruler.Step
	for _, s := range row.Steps {
		beyond := float64(forward) * (l.Index(s.T) - lastIndex(row, forward))
		if beyond >= -ruler.StrayMarks && beyond <= ruler.EndReach {
			out = append(out, s)
		}
	}
	if forward < 0 {
		slices.Reverse(out)
	}
	return out
}

// lastIndex is the index of the last mark on a side; of none, the first.
func lastIndex(row ruler.Row, forward int) float64 {
	if forward < 0 {
		return float64(row.Marks[0].Index)
	}
	return float64(row.Marks[len(row.Marks)-1].Index)
}

// frontKnown is what is known of the front end's reading before it is looked for.
type frontKnown struct {
	index  float64 // index that the stated reading would have, up to whole periods
	period float64 // 0: unknown
	margin float64 // graduations from the ruler's last line to its end, as far as that is known
}

// next says whether a place so many graduations beyond the last line seen is the first at which the
// front can lie: the next is a period further on, and the lines up to there would be seen.
func (k frontKnown) next(beyond float64) bool { return beyond < k.margin+k.period/2 }

// tells says whether an index is the stated front's by the longest lines, up to whole periods: an edge
// that lies there is the end, where nothing speaks against it.
func (k frontKnown) tells(index float64) bool {
	return k.period > 1 && k.likelihood(index) > math.Exp(-0.5)
}

// likelihood is 1 where an index agrees with what is known, and falls to a fiftieth where not.
func (k frontKnown) likelihood(index float64) float64 {
	if k.period == 0 {
		return 1
	}
	d := (index - k.index) / k.period
	off := math.Abs(d-math.Round(d)) * k.period
	return max(leastLikely, math.Exp(-0.5*math.Pow(off/frontSD, 2)))
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
