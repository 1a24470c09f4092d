package marks

import (
	"math"

	"leadmark/vision/edge"
	"leadmark/vision/ruler"
)

// sharpen places a step on the picture's own pixels, where its edge can be followed there.
func (c *crossing) sharpen(o *ruler.Step) {
	if !c.follow(o) {
		o.U = math.Hypot(o.U, unsharpened)
	}
}

// follow places a step on its edge; false, and the step as it was, where the edge is lost.
func (c *crossing) follow(o *ruler.Step) bool {
	cut := lineOff * c.pitch * c.s.step
	e, ok := c.edge(o.Line, o.WidthPX/gaussWidth, cut)
	if !ok {
		return false
	}
	along := math.Abs(e.Line.Dir().Cross(c.s.dir)) // an edge that leans is crossed at a slant
	if along < leastAcross {
		return false
	}
	wc := c.s.w0 + c.pivot*c.s.step
	axis := ruler.Line{A: c.s.place(0, wc), B: c.s.place(1, wc)}
	at, meets := axis.Meet(e.Line)
	if !meets || math.Abs(c.s.dir.Dot(at.Sub(c.s.origin))-o.T) > c.pitch*c.s.step {
		return false
	}
	o.T, o.Line = c.s.dir.Dot(at.Sub(c.s.origin)), e.Line
	o.U, o.TurnU, o.WidthPX = math.Hypot(e.U, e.Shape())/along, e.TurnU, gaussWidth*e.Sigma
	o.WidthU = gaussWidth * e.SigmaU
	return true
}

// edge places the edge along a line as well as it can be, from one long edge of the ruler to the
// other where it goes on so far. sigma is a guess at its blur; cut is how far, px, a part of it may
// lie off.
func (c *crossing) edge(l ruler.Line, sigma, cut float64) (edge.Placed, bool) {
	part, ok := edge.Place(c.p, l, sigma, cut, edge.InPieces)
	if !ok || part.Share < leastShared {
		part, ok = edge.Place(c.p, l, softer*sigma, cut, edge.InPieces)
	}
	if !ok || part.Share < leastShared {
		return part, false
	}
	if all := c.across(part.Line); all.B.Sub(all.A).Len() > longer*part.Line.B.Sub(part.Line.A).Len() {
		if whole, ok := edge.Place(c.p, all, part.Sigma, cut, edge.AsWhole); ok && whole.U <= part.U {
			return whole, true
		}
	}
	if whole, ok := edge.Place(c.p, l, part.Sigma, cut, edge.AsWhole); ok && whole.Share >= leastShared {
		return whole, true
	}
	return part, true
}

// across is an edge's line from one long edge of the ruler to the other, a little of both left out.
func (c *crossing) across(l ruler.Line) ruler.Line {
	if c.sides[0] == nil || c.sides[1] == nil {
		return l
	}
	a, okA := l.Meet(*c.sides[0])
	b, okB := l.Meet(*c.sides[1])
	if !okA || !okB {
		return l
	}
	in := b.Sub(a).Mul(rimPart)
	if in.Dot(l.B.Sub(l.A)) < 0 { // the sense of the edge stays
		a, b, in = b, a, in.Mul(-1)
	}
	return ruler.Line{A: a.Add(in), B: b.Sub(in)}
}
