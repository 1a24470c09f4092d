package scene

import (
	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
)

// Backdrop keeps a coarse picture of the scene, with what the rulers found hide left out.
func Backdrop(p pixel.Pyramid, rows []ruler.Row) ruler.Backdrop {
	g, s := p.Small()
	w, h := int(float64(p.WholeW)/s), int(float64(p.WholeH)/s)
	for max(w, h) > backdropSide && min(g.W, g.H) >= 2 {
		g, s = g.Half(), 2*s
		w, h = w/2, h/2
	}
	b := ruler.Backdrop{Width: w, Height: h, Scale: s, Tone: make([]uint8, w*h), Hidden: make([]bool, w*h)}
	bands := bandsOf(rows)
	for y := range h {
		for x := range w {
			i := y*w + x
			if x >= g.W || y >= g.H { // not decoded
				b.Hidden[i] = true
				continue
			}
			b.Tone[i] = g.Pix[y*g.W+x]
			b.Hidden[i] = hidden(pixel.Full(float64(x), float64(y), s), bands)
		}
	}
	return b
}

// band is the part of a picture that a ruler may hide: along its row and across it.
type band struct {
	row                   ruler.Row
	from, to, least, most float64 // px
}

// bandsOf are what rulers hide: their bodies, and what lies close to them: in their shadow, or in the
// hand that holds them.
func bandsOf(rows []ruler.Row) (out []band) {
	for _, r := range rows {
		pitch := r.Pitch
		for _, o := range rows { // a row of the longer marks alone has a pitch of five or ten
			pitch = min(pitch, o.Pitch)
		}
		first, last := 0.0, unseenBody*pitch // how far across its body goes, where that was not found
		if r.Sides[0] != nil && r.Sides[1] != nil {
			a, b := across(*r.Sides[0], r), across(*r.Sides[1], r)
			first, last = min(a, b, 0), max(a, b)
		}
		out = append(out, band{r, r.Marks[0].T - hiddenAlong*pitch, r.Marks[len(r.Marks)-1].T + hiddenAlong*pitch,
			first - hiddenAcross*pitch, last + hiddenAcross*pitch})
	}
	return out
}

// hidden says whether a place lies in one of some bands.
func hidden(at ruler.Point, bands []band) bool {
	for i := range bands {
		b := &bands[i]
		d := at.Sub(b.row.Origin)
		t, w := b.row.Dir.Dot(d), b.row.Side*b.row.Dir.Cross(d)
		if t > b.from && t < b.to && w > b.least && w < b.most {
			return true
		}
	}
	return false
}

// across is how far from a row's axis one of its long edges lies, on the side where the ruler's
// middle is.
func across(edge ruler.Line, r ruler.Row) float64 {
	square := ruler.Line{A: r.Origin, B: r.Origin.Add(r.Dir.Perp())}
	p, _ := edge.Meet(square)
	return r.Side * r.Dir.Cross(p.Sub(r.Origin))
}
