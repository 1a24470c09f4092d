package scene

import (
	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
)

// backdropSide is the longest side of the coarse picture of the scene that is kept of a frame.
const backdropSide = 256

// Backdrop keeps a coarse picture of the scene, with what the rulers found hide left out.
func Backdrop(p pixel.Pyramid, rows []ruler.Row) ruler.Backdrop {
	g, s := p.Last()
	w, h := int(float64(p.WholeW)/s), int(float64(p.WholeH)/s)
	for max(w, h) > backdropSide && min(w, h) >= 16 && min(g.W, g.H) >= 2 {
		g, s = g.Half(), 2*s
		w, h = w/2, h/2
	}
	b := ruler.Backdrop{Width: w, Height: h, Scale: s, Tone: make([]uint8, w*h), Hidden: make([]bool, w*h)}
	for y := range h {
		for x := range w {
			i := y*w + x
			if x >= g.W || y >= g.H { // not decoded
				b.Hidden[i] = true
				continue
			}
			b.Tone[i] = g.Pix[y*g.W+x]
			b.Hidden[i] = onRuler(pixel.Full(float64(x), float64(y), s), rows)
		}
	}
	return b
}

// onRuler says whether a place lies on, or close to, a ruler that was found: in its shadow, or
// in the hand that holds it.
func onRuler(at ruler.Point, rows []ruler.Row) bool {
	for _, r := range rows {
		d := at.Sub(r.Origin)
		t, w := r.Dir.Dot(d), r.Side*r.Dir.Cross(d)
		pitch := r.Pitch
		for _, o := range rows { // a row of the longer marks alone has a pitch of five or ten
			pitch = min(pitch, o.Pitch)
		}
		near := t > r.Marks[0].T-20*pitch && t < r.Marks[len(r.Marks)-1].T+20*pitch
		first, last := 0.0, 38*pitch // how far across its body goes, where that was not found
		if r.Sides[0] != nil && r.Sides[1] != nil {
			a, b := across(*r.Sides[0], r), across(*r.Sides[1], r)
			first, last = min(a, b, 0), max(a, b)
		}
		if near && w > first-12*pitch && w < last+12*pitch {
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
