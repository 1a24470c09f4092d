package read

import (
	"leadmark/calib/read/tripline"
	"leadmark/vision/ruler"
)

// Line is where in the picture the run's advances are counted from, as tripline.Choose has it.
func (g Readings) Line() (tripline.Line, error) {
	var still *tripline.Still
	if g.still != nil {
		still = &tripline.Still{Reading: *g.still, U: g.stillU}
	}
	return tripline.Choose(g.run.Trip, still, g.travelled)
}

// Past is the line that lies so many metres past another along the way of travel, where the scale
// is the median of some.
func (g Readings) Past(l tripline.Line, metres float64, pxPerM []float64) ruler.Line {
	return g.travelled().Past(l, metres, pxPerM)
}

// travelled is where the rulers travel: their axes' mean direction, their front ends, outlines and
// scale.
func (g Readings) travelled() tripline.Path {
	placed := g.front.placed(g.list)
	t := tripline.Path{PxPerM: pxPerM(placed)}
	for _, r := range placed {
		t.Along = t.Along.Add(wayOf(g.run, r))
		t.Outlines = append(t.Outlines, r.Outline)
	}
	t.Along = t.Along.Unit()
	for _, r := range placed {
		at, _ := g.front.place(r)
		t.Fronts = append(t.Fronts, t.Along.Dot(at))
	}
	return t
}
