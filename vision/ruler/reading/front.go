package reading

import (
	"math"
	"slices"

	"leadmark/vision/ruler"
	"leadmark/vision/ruler/scale"
)

// frontOf picks, among the edges across the ruler, its end on the side that forward points to (+1:
// rising T): where its reading is stated, the plainest of those that agree with it; else the plainest
// that is one, if nothing before it may be one as well. Ends of the face count where no edge does.
func frontOf(row ruler.Row, l *scale.ByIndex, forward int, known frontKnown) (ruler.Step, bool) {
	edges, faces := outward(row, l, forward)
	if known.period > 1 {
		for _, steps := range [][]ruler.Step{edges, faces} {
			if s, ok := known.plainest(steps, l, forward, lastIndex(row, forward)); ok {
				return s, true
			}
		}
		s, _ := plainEnd(edges, row.Pitch)
		return s, s.Outline == ruler.Ends
	}
	s, before := plainEnd(edges, row.Pitch)
	if s.Outline != ruler.Ends {
		faces = slices.DeleteFunc(faces, func(s ruler.Step) bool { return s.Coherent < ruler.WholeWidth })
		s, before = plainEnd(faces, row.Pitch)
	}
	return s, math.Abs(s.Contrast)*blocks > before
}

// plainest is the plainest of the edges that agree with a stated front. Nothing sure counts only where the
// front is to be next, and so does an end of the face.
func (k frontKnown) plainest(steps []ruler.Step, l *scale.ByIndex, forward int, last float64) (ruler.Step, bool) {
	var best ruler.Step
	score := 0.0
	for _, s := range steps {
		index := l.Index(s.T)
		beyond := float64(forward) * (index - last)
		sure := s.Outline >= ruler.HalfEnds && !s.Face
		if !k.tells(index) || s.Outline < ruler.MayEnd || !sure && !k.next(beyond) {
			continue
		}
		if v := math.Abs(s.Contrast) * s.Coherent / (1 + fartherLess*max(0, beyond)); v > score {
			best, score = s, v
		}
	}
	return best, score > 0
}

// plainEnd is the plainest end among edges from the marks outward, of contrast 0 where none is, and the
// contrast of the plainest edge before it that may be one too.
func plainEnd(steps []ruler.Step, pitch float64) (end ruler.Step, before float64) {
	at := -1
	for i, s := range steps {
		if s.Outline == ruler.Ends && !soft(s, pitch) && math.Abs(s.Contrast) > math.Abs(end.Contrast) {
			at, end = i, s
		}
	}
	for _, s := range steps[:max(0, at)] {
		same := math.Abs(s.T-end.T) < sameEdge*pitch
		if s.Outline != ruler.GoesOn && !soft(s, pitch) && !same {
			before = max(before, math.Abs(s.Contrast))
		}
	}
	return end, before
}

// soft says whether an edge is so wide that blur as wide would leave no lines: it is a shadow's.
func soft(s ruler.Step, pitch float64) bool { return s.WidthPX > softest*pitch }

// outward are the edges at which a row can end on a side, from the marks outward, and the ends of the face.
func outward(row ruler.Row, l *scale.ByIndex, forward int) (edges, faces []ruler.Step) {
	for _, s := range row.Steps {
		beyond := float64(forward) * (l.Index(s.T) - lastIndex(row, forward))
		switch {
		case beyond < -ruler.StrayMarks || beyond > ruler.EndReach:
		case s.Face:
			faces = append(faces, s)
		default:
			edges = append(edges, s)
		}
	}
	if forward < 0 {
		slices.Reverse(edges)
		slices.Reverse(faces)
	}
	return edges, faces
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
