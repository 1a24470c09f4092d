package edge

import (
	"math"

	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
)

// An edge is placed on the picture's own pixels. Across it the light is taken for a step between
// two levels blurred to a Gaussian; place and levels are fitted by least squares in each of several
// pieces of the edge, and a line goes through the places. A pixel's variance is taken from the
// pixels far to either side, noise and texture together, and in between grows with the light, as
// shot noise does. In white noise that is as good as can be (the Cramer-Rao bound of such an edge;
// S. M. Kay, Fundamentals of Statistical Signal Processing: Estimation Theory, 1993, sections 3.5
// and 8.9), and a piece that shows something else stands out from the line and is left out.

// Placed is an edge with how well it is known.
type Placed struct {
	Line   ruler.Line     // over the pieces that count
	U      float64        // px, standard uncertainty across the edge at the line's middle, by the picture's noise
	Shape  func() float64 // px, likewise by the edge's own shape, which may be no plain step; worked out when asked for
	TurnU  float64        // rad, of its direction
	Sigma  float64        // px, of the blur
	SigmaU float64        // px
	n      int            // pieces that count
	Share  float64        // of all pieces
}

// Place places an edge on the pyramid's finest level; lengths are in px of the picture.
func Place(p pixel.Pyramid, l ruler.Line, sigma, cut float64, care Care) (Placed, bool) {
	k := p.Base
	down := func(q ruler.Point) ruler.Point { return ruler.Point{X: (q.X+0.5)/k - 0.5, Y: (q.Y+0.5)/k - 0.5} }
	e, ok := placeEdge(p.Levels[0], ruler.Line{A: down(l.A), B: down(l.B)}, sigma/k, cut/k, care)
	e.Line = ruler.Line{A: pixel.Full(e.Line.A.X, e.Line.A.Y, k), B: pixel.Full(e.Line.B.X, e.Line.B.Y, k)}
	shape := e.Shape
	e.Shape = func() float64 { return k * shape() }
	e.U, e.Sigma, e.SigmaU = e.U*k, e.Sigma*k, e.SigmaU*k
	return e, ok
}

// Care is how well an edge is to be placed: piece by piece, or all pieces at once as well, as ends
// are.
type Care bool

// How an edge can be placed.
const (
	InPieces Care = false
	AsWhole  Care = true
)

// placeEdge places an edge that runs about along a line, from A to B. sigma is a guess at its blur,
// px; cut is how far, px, a piece may lie from the line through the others.
func placeEdge(g *pixel.Gray, l ruler.Line, sigma, cut float64, care Care) (Placed, bool) {
	length := l.B.Sub(l.A).Len()
	n := max(min(mostPieces, int(length/pieceLength)), min(usualPieces, int(length/leastLength)))
	if n < fewPieces {
		return Placed{}, false
	}
	f := newPieces(g, l, n, max(leastSigma, sigma))
	f.whole = bool(care)
	f.fitAll(true)
	f.agree()
	f.fitAll(false)
	e, ok := f.line(cut)
	mid := e.Line.A.Add(e.Line.B).Mul(0.5)
	e.Shape = func() float64 {
		near, ok := f.nearer().line(cut)
		if !ok {
			return 0
		}
		// The two differ by chance too: by the variance that the pixels left out take from the
		// better one (Hausman 1978, Econometrica 46:1251).
		d, chance := near.Line.Distance(mid), max(0, near.U*near.U-e.U*e.U)
		return math.Sqrt(max(0, d*d-chance))
	}
	return e, ok
}

// nearer fits the same pieces by the pixels next to the edge alone, with blur and slope as they
// are: an edge that is no plain step, such as a bevelled one, then shows elsewhere.
func (f *pieces) nearer() *pieces {
	g := *f
	g.list = make([]piece, len(f.list))
	for k, p := range f.list {
		all := p.samples
		p.samples = nil
		for _, q := range all {
			if math.Abs(q.s-p.at) <= nearHalf*f.sigma+1 {
				p.samples = append(p.samples, q)
			}
		}
		g.list[k] = p
	}
	g.fitAll(false)
	return &g
}

// line fits the line through the pieces that are of the sense of most, robustly, each weighed by its
// own uncertainty.
func (f *pieces) line(cut float64) (Placed, bool) {
	good := f.good()
	var w, at, u []float64
	for _, p := range good {
		w, at, u = append(w, p.w), append(at, p.at), append(u, p.u)
	}
	if len(w) < fewPieces {
		return Placed{}, false
	}
	through := newLineFit(w, at, u, cut)
	if through.n < fewPieces {
		return Placed{}, false
	}
	if f.whole {
		through, _ = f.together(through.near(good, cut), through)
	}

	e := Placed{
		Sigma: f.sigma, SigmaU: f.sigmaU, U: math.Hypot(through.u, edgeFloor), TurnU: through.turnU,
		n: through.n, Share: float64(through.n) / float64(len(f.list)),
	}
	e.Line = ruler.Line{A: f.place(through.lo-f.length/2, through), B: f.place(through.hi+f.length/2, through)}
	return e, true
}

func (f *pieces) place(w float64, l lineFit) ruler.Point {
	return f.l.A.Add(f.along.Mul(w)).Add(f.n.Mul(l.a + l.b*w))
}
