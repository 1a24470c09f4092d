package reading

import (
	"math"

	"leadmark/vision/ruler"
	"leadmark/vision/ruler/scale"
)

// faintEnd is the least contrast of a band, of the marks': those that are less plain are doubted.
const faintEnd = 0.4

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
		if !(s.End || s.Open && known.tells(l.Index(s.T)) && known.next(beyond)) || beyond < -ruler.StrayMarks ||
			beyond > ruler.EndReach {
			continue
		}
		v := math.Abs(s.Contrast) * s.Coherent * known.likelihood(l.Index(s.T))
		// What lies nearer the marks is the ruler's own; further edges are the scene's.
		v /= 1 + 0.05*max(0, beyond)
		if v > score {
			best, score = s, v
		}
	}
	if score > 0 && known.period > 1 && !known.tells(l.Index(best.T)) {
		return beforeShadow(row, l, forward, known, best), true
	}
	return best, score > 0
}

// beforeShadow is the ruler's end where a shadow's outline, which has a corner as well, was taken for
// it: an edge across the whole ruler nearer the marks, where the stated front must be. Past it the
// shadow goes on, so that its own corner tells nothing.
func beforeShadow(row ruler.Row, l *scale.ByIndex, forward int, known frontKnown, shadow ruler.Step) ruler.Step {
	best := shadow
	for _, s := range row.Steps {
		nearer := float64(forward) * (l.Index(shadow.T) - l.Index(s.T))
		if s.Coherent >= ruler.WholeWidth && known.tells(l.Index(s.T)) && nearer > 0 && nearer < known.period &&
			(best.T == shadow.T || math.Abs(s.Contrast) > math.Abs(best.Contrast)) {
			best = s
		}
	}
	return best
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
