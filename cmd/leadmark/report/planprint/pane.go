package planprint

import (
	"leadmark/cmd/leadmark/report/figure/drawing"
	"leadmark/cmd/leadmark/report/figure/svg"
)

// The drawn set is so wide, px, and its side view and view from above together at most so high.
const (
	setWidth   = 1000.0
	setMargin  = 24.0
	setLeft    = 76.0 // room for the axis of a panel
	viewsMost  = 980.0
	legendStep = 30.0
)

// pane is one of the two views: along to the right, the other way up the page (or down, for depth:
// the camera is below).
type pane struct {
	d              *drawing.Drawing
	x0, y0, x1, y1 float64
	along, other   [2]float64
	px             float64
	down           bool
}

// at places a point.
func (p pane) at(a, o float64) [2]float64 {
	x := p.x0 + (a-p.along[0])*p.px
	if p.down {
		return [2]float64{x, p.y0 + (o-p.other[0])*p.px}
	}
	return [2]float64{x, p.y1 - (o-p.other[0])*p.px}
}

func (p pane) all(points [][2]float64) [][2]float64 {
	out := make([][2]float64, len(points))
	for i, q := range points {
		out[i] = p.at(q[0], q[1])
	}
	return drawing.Clipped(out, p.x0, p.y0, p.x1, p.y1)
}

func (p pane) area(class string, points [][2]float64) { p.d.Area(class, drawing.Closed(p.all(points))) }

func (p pane) rect(class string, a, o [2]float64) {
	p.area(class, [][2]float64{{a[0], o[0]}, {a[1], o[0]}, {a[1], o[1]}, {a[0], o[1]}})
}

// axes draws graduations along the bottom and the left edge, in millimetres.
func (p pane) axes(title, other string) {
	p.d.Text("label", setMargin, p.y0-12, "start", title)
	p.d.Text("tick", setWidth-setMargin, p.y0-12, "end", "upright: "+other)
	a := svg.Axis{Lo: p.along[0] * 1e3, Hi: p.along[1] * 1e3, P0: p.x0, P1: p.x1}
	values, step := a.Ticks(9)
	for _, v := range values {
		p.d.Line("grid", [2]float64{a.At(v), p.y0}, [2]float64{a.At(v), p.y1})
		p.d.Text("tick", a.At(v), p.y1+20, "middle", svg.TickText(v, step))
	}
	p.d.Text("tick", p.x1, p.y1+40, "end", "mm along, from the trip point")
	o := svg.Axis{Lo: p.other[0] * 1e3, Hi: p.other[1] * 1e3, P0: p.y1, P1: p.y0}
	if p.down {
		o.P0, o.P1 = p.y0, p.y1
	}
	values, step = o.Ticks(int(max(2, (p.y1-p.y0)/70)))
	for _, v := range values {
		p.d.Line("grid", [2]float64{p.x0, o.At(v)}, [2]float64{p.x1, o.At(v)})
		p.d.Text("tick", p.x0-8, o.At(v)+5, "end", svg.TickText(v, step))
	}
}

// exit draws the opening as the gap between two walls, and the beam across it.
func (p pane) exit(width float64) {
	low, high := p.other[0], p.other[1]
	half := max(width/2, 0.5/p.px)
	top, bottom := p.at(0, min(high, half+12/p.px)), p.at(0, half)
	p.d.Line("exit", top, bottom)
	top, bottom = p.at(0, -half), p.at(0, max(low, -half-12/p.px))
	p.d.Line("exit", top, bottom)
	p.d.Line("beam", p.at(0, half), p.at(0, -half))
}

// between is the part of the line from a to b whose x lies from lo to hi; nothing where none does.
func between(a, b [2]float64, lo, hi float64) [][2]float64 {
	dx, dy := b[0]-a[0], b[1]-a[1]
	// of an upright line without end either way, or no numbers where it stands on one
	t0, t1 := (lo-a[0])/dx, (hi-a[0])/dx
	t0, t1 = max(0, min(t0, t1)), min(1, max(t0, t1))
	if !(t0 < t1) {
		return nil
	}
	return [][2]float64{{a[0] + t0*dx, a[1] + t0*dy}, {a[0] + t1*dx, a[1] + t1*dy}}
}
