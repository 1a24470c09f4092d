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
	var t tripline.Path
	var fronts []ruler.Point
	var placed []ruler.Reading
	for i, r := range g.list {
		at, ok := g.front.place(r)
		if !ok || r.Status != ruler.StatusRead {
			continue
		}
		placed = append(placed, r)
		way, outline := wayOf(g.run, r), r.Outline
		if d, moved := g.carried[i]; moved { // to where most frames have it
			way = d.Back(at.Add(way)).Sub(d.Back(at)).Unit()
			at = d.Back(at)
			for k, p := range outline {
				outline[k] = d.Back(p)
			}
		}
		t.Along = t.Along.Add(way)
		t.Outlines, fronts = append(t.Outlines, outline), append(fronts, at)
	}
	t.Along, t.PxPerM = t.Along.Unit(), pxPerM(placed)
	for _, at := range fronts {
		t.Fronts = append(t.Fronts, t.Along.Dot(at))
	}
	return t
}
