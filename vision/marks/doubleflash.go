package marks

import (
	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/doubleflash"
)

// doubleFlash looks for two images of a row where the hint says that two flashes light the picture.
func (f finding) doubleFlash(r ruler.Row, h ruler.Hint) ruler.Row {
	if h.Twin != nil {
		r.Twin = doubleflash.Fit(r, f.face(r.Pitch), *h.Twin)
	}
	return r
}

// face lays the row's surroundings out flat.
func (f finding) face(pitch float64) doubleflash.Face {
	s := f.s
	out := doubleflash.Face{T0: s.t0, Step: s.step}
	mid, wide := int(f.q.mid()), max(1, int(faceBand*pitch/s.step))
	for k := -faceBands; k <= faceBands; k++ {
		j0 := mid + k*wide - wide/2
		if j0 < 0 || j0+wide > s.nw {
			continue
		}
		row := s.profile(j0, j0+wide-1, f.q.mid(), f.q.lean)
		for i, v := range row {
			row[i] = pixel.Linear(v)
		}
		out.Light = append(out.Light, row)
	}
	return out
}
