package reading

import (
	"math"
	"slices"

	"leadmark/fit/stat"
	"leadmark/vision/ruler"
)

// widthAt is the distance of the ruler's long edges along the mark at t, m; 0 where one of them
// was not found. The marks' own scale is taken across as it is along: rulers are looked at
// from in front.
func widthAt(s ruler.Scale, far *ruler.Line, t float64) float64 {
	if s.Edge == nil || far == nil {
		return 0
	}
	at := s.Origin.Add(s.Dir.Mul(t))
	mark := ruler.Line{A: at, B: at.Add(s.MarkDir(t))}
	a, okA := mark.Meet(*s.Edge)
	b, okB := mark.Meet(*far)
	if !okA || !okB {
		return 0
	}
	return b.Sub(a).Len() / s.PxPerM(s.Reading(t))
}

// OneWidth returns readings of one ruler with its long axis placed alike in all: where a frame
// does not show the edge across the ruler, or something was taken for it, the width that the
// other frames agree on stands in. Fewer than three frames that show it do not tell.
func OneWidth(all []ruler.Reading) []ruler.Reading {
	var w []float64
	for _, r := range all {
		if r.Status == ruler.StatusRead && r.Scale.Width > 0 {
			w = append(w, r.Scale.Width)
		}
	}
	out := append([]ruler.Reading(nil), all...)
	if len(w) < fewestWidths {
		return out
	}
	common := stat.Median(slices.Clone(w))
	for i, r := range out {
		if r.Status == ruler.StatusRead && r.Scale.Edge != nil && math.Abs(r.Scale.Width/common-1) > widthOff {
			out[i] = withWidth(r, common)
		}
	}
	return out
}

// withWidth places the long axis half a width from the edge beside the marks.
func withWidth(r ruler.Reading, w float64) ruler.Reading {
	s := r.Scale
	var mid [2]ruler.Point
	for k, g := range r.Graduations.Ends() {
		t := s.Along(g.At)
		at := s.Origin.Add(s.Dir.Mul(t))
		edge, ok := ruler.Line{A: at, B: at.Add(s.MarkDir(t))}.Meet(*s.Edge)
		if !ok {
			return r
		}
		mid[k] = edge.Add(s.MarkDir(t).Mul(w / 2 * s.PxPerM(s.Reading(t))))
	}
	r.Scale.Long, r.Scale.Width = ruler.Line{A: mid[0], B: mid[1]}, w
	if r.Front != nil {
		end := *r.Front
		if p, ok := r.Scale.Long.Meet(end.Line); ok {
			end.At, end.Reading = p, s.Reading(s.Along(p))
			r.Front = &end
		}
	}
	return r
}
