package marks

import (
	"math"

	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/coded"
)

// cells samples the tones where a coded ruler has its code: between each two marks, past the
// longest of them, on the side of the ruler's body. The layout's lengths across are taken in
// pitches; a ruler tilted by 15 degrees shifts that by half a millimetre, which the row of cells
// is wide enough to bear.
func (f finding) cells(p pixel.Pyramid, side int) ruler.Cells {
	first, last := f.graduations[0].index-cellsBeyond, f.graduations[len(f.graduations)-1].index+cellsBeyond
	c := ruler.Cells{First: first, Tone: make([]float64, 0, last-first)}
	lay := coded.Layout()
	mid := ((lay.CodeNear+lay.CodeFar)/2 - lay.Short/2) * 1e3
	half := cellPart * (lay.CodeFar - lay.CodeNear) / 2 * 1e3
	at := 0
	for i := first; i < last; i++ {
		for at < len(f.graduations)-2 && f.graduations[at+1].index <= i {
			at++
		}
		a, b := f.graduations[at], f.graduations[at+1]
		switch { // beyond the ends the pitch of the last few marks goes on
		case i < a.index:
			b = f.graduations[cellsBeyond]
		case i >= b.index:
			a = f.graduations[len(f.graduations)-1-cellsBeyond]
		}
		t, pitch := between(a, b, float64(i)+0.5)
		across := [2]float64{float64(side) * (mid - half), float64(side) * (mid + half)}
		c.Tone = append(c.Tone, f.cellTone(p, t, pitch, across))
	}
	return c
}

// between places an index between two marks, and the pitch there.
func between(a, b graduation, index float64) (t, pitch float64) {
	pitch = (b.t - a.t) / float64(b.index-a.index)
	return a.t + (index-float64(a.index))*pitch, pitch
}

// cellTone is the mean tone of the middle of a cell, as a part of the full range; below 0 where
// any of it lies outside the picture. The cell reaches across from span[0] to span[1] pitches off
// the middle of the shortest marks.
func (f finding) cellTone(p pixel.Pyramid, t, pitch float64, span [2]float64) float64 {
	sum := 0.0
	for j := range cellAcross {
		w := (span[0] + (span[1]-span[0])*float64(j)/(cellAcross-1)) * pitch
		shift := f.q.at(t) * w
		for i := range cellAlong {
			at := f.s.place(t+shift+cellStep*pitch*float64(i-1), f.across()+w)
			v, ok := p.Sample(0, at)
			if !ok || math.IsNaN(v) {
				return -1
			}
			sum += v
		}
	}
	return sum / (cellAlong * cellAcross) / 255
}
