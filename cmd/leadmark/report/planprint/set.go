package planprint

import (
	"fmt"
	"math"

	"leadmark/calib/plan"
	"leadmark/calib/plan/reach"
	"leadmark/cmd/leadmark/report/figure/drawing"
)

// SVG draws the planned set: from the side, from above, and with camera and heads, each to
// scale. The file is light on paper and on a light screen, and dark on a dark one.
func SVG(p plan.Plan) ([]byte, error) { return drawSet(p).SVG(Head(p).String()) }

// PNG is the same as a picture, for light or for dark.
func PNG(p plan.Plan, dark bool) ([]byte, error) { return drawSet(p).PNG(dark) }

// drawSet composes the panels.
func drawSet(p plan.Plan) *drawing.Drawing {
	d := &drawing.Drawing{W: setWidth, Inks: inks()}
	d.Text("title", setMargin, 40, "start", setTitle(p))
	d.Text("tick", setMargin, 66, "start", setSubtitle(p))
	y := legend(d, p, 84)
	v := viewsOf(p)
	y = v.side(d, p, y+18)
	y = v.top(d, p, y+18)
	if p.Framing != nil {
		y = drawRig(d, p, y+18)
	}
	d.H = y + setMargin
	d.Ground("paper")
	return d
}

func setTitle(p plan.Plan) string {
	t := subjectName(p)
	if n := p.Request.Rig.Name; n != "" {
		t += ", with the rig " + n
	}
	return t
}

func setSubtitle(p plan.Plan) string {
	t := fmt.Sprintf("At the flash the nose is %s past the trip point on average; the reach holds %s of "+
		"whole bodies.", aboutMM(p.Lead.Mean, p.Lead.SD), chanceText(p.Reach.Probability))
	if p.Request.Lag.Assumed {
		t += " Lag assumed."
	}
	return t
}

// legend says what is drawn how, in columns, and returns where it ends.
func legend(d *drawing.Drawing, p plan.Plan, y float64) float64 {
	entries := []struct{ class, text string }{
		{"exit", "exit"}, {"beam", "beam"}, {"path", "paths of some trips"}, {"body", "bodies at the flash"},
		{"reach", "reach"}, {"outline", "all bodies within it"},
	}
	if p.Framing != nil {
		entries = append(entries, struct{ class, text string }{"field", "field of the picture"},
			struct{ class, text string }{"zone", "zone of focus"})
	}
	const columns = 4
	wide := (d.W - 2*setMargin) / columns
	for i, e := range entries {
		x, at := setMargin+float64(i%columns)*wide, y+float64(i/columns)*legendStep+14
		switch e.class {
		case "body", "outline", "zone":
			d.Box(e.class, x, at-8, x+30, at+8)
		default:
			d.Line(e.class, [2]float64{x, at}, [2]float64{x + 30, at})
		}
		d.Text("label", x+40, at+6, "start", e.text)
	}
	rows := (len(entries) + columns - 1) / columns
	return y + float64(rows)*legendStep
}

// views are the side view and the view from above, on one scale.
type views struct {
	along, up, depth [2]float64 // m, what is shown
	px               float64    // pixels a metre
}

// viewsOf chooses what is shown: exit, reach, field and paths, with some room about them.
func viewsOf(p plan.Plan) views {
	r, s := p.Reach, p.Request.Subject
	v := views{along: r.Along, up: r.Up, depth: r.Depth}
	room := 0.04 * (r.Along[1] - r.Along[0])
	v.take(&v.along, -1.2*s.Length, 0)
	v.take(&v.up, -s.Exit[0], s.Exit[0])
	v.take(&v.depth, -s.Exit[1], s.Exit[1])
	for _, path := range shownPaths(p) {
		for i := range path.Side {
			v.take(&v.along, path.Side[i][0], path.Side[i][0])
			v.take(&v.up, path.Side[i][1], path.Side[i][1])
		}
		for _, q := range path.Top {
			v.take(&v.depth, q[1], q[1])
		}
	}
	if f := p.Framing; f != nil {
		v.take(&v.along, f.Aim[0]-f.Field[0]/2, f.Aim[0]+f.Field[0]/2)
		v.take(&v.up, f.Aim[1]-f.Field[1]/2, f.Aim[1]+f.Field[1]/2)
	}
	for _, x := range []*[2]float64{&v.along, &v.up, &v.depth} {
		x[0], x[1] = x[0]-room, x[1]+room
	}
	v.px = (setWidth - setLeft - setMargin) / (v.along[1] - v.along[0])
	if high := v.px * (v.up[1] - v.up[0] + v.depth[1] - v.depth[0]); high > viewsMost {
		v.px *= viewsMost / high
	}
	return v
}

func (v views) take(x *[2]float64, lo, hi float64) { x[0], x[1] = min(x[0], lo), max(x[1], hi) }

func (v views) pane(d *drawing.Drawing, y float64, other [2]float64, down bool) pane {
	w, h := v.px*(v.along[1]-v.along[0]), v.px*(other[1]-other[0])
	x := setLeft + (setWidth-setLeft-setMargin-w)/2
	p := pane{d, x, y + 34, x + w, y + 34 + h, v.along, other, v.px, down}
	d.Box("panel", p.x0, p.y0, p.x1, p.y1)
	return p
}

// scene draws what both views show alike; k picks the body's outline and the path's other
// coordinate.
func (p pane) scene(pl plan.Plan, outline [][2]float64, box [2]float64, k int) {
	p.area("outline", outline)
	for _, path := range shownPaths(pl) {
		var line [][2]float64
		for _, q := range path.Points {
			line = append(line, p.at(q[0], q[k]))
		}
		p.d.Line("path", line...)
		p.area("body", [][][2]float64{1: path.Side, 2: path.Top}[k])
	}
	p.rect("reach", pl.Reach.Along, box)
}

// shownPaths are as many trips as leave the bodies apart: fewer of a body that is large in its
// reach.
func shownPaths(pl plan.Plan) []reach.Path {
	r, s := pl.Reach, pl.Request.Subject
	room := (r.Along[1] - r.Along[0]) * min(r.Up[1]-r.Up[0], r.Depth[1]-r.Depth[0])
	n := int(1.5 * room / (s.Length * max(s.Height, s.Width)))
	return pl.Paths[:min(len(pl.Paths), max(n, 4))]
}

// side draws the view from the side.
func (v views) side(d *drawing.Drawing, pl plan.Plan, y float64) float64 {
	p := v.pane(d, y, v.up, false)
	p.axes("From the side", "mm up, from the middle of the opening")
	p.scene(pl, pl.Reach.SideView, pl.Reach.Up, 1)
	if f := pl.Framing; f != nil {
		p.rect("field", [2]float64{f.Aim[0] - f.Field[0]/2, f.Aim[0] + f.Field[0]/2},
			[2]float64{f.Aim[1] - f.Field[1]/2, f.Aim[1] + f.Field[1]/2})
	}
	p.exit(pl.Request.Subject.Exit[0])
	return p.y1 + 44
}

// top draws the view from above; the camera looks from below.
func (v views) top(d *drawing.Drawing, pl plan.Plan, y float64) float64 {
	p := v.pane(d, y, v.depth, true)
	p.axes("From above, the camera below", "mm toward the camera")
	if f := pl.Focus; f != nil {
		far, near := math.Max(f.Far, v.depth[0]), math.Min(f.Near, v.depth[1])
		p.rect("zone", v.along, [2]float64{far, near})
		p.d.Line("plane", p.at(v.along[0], 0), p.at(v.along[1], 0))
	}
	p.scene(pl, pl.Reach.TopView, pl.Reach.Depth, 2)
	if f := pl.Framing; f != nil {
		u := f.Optics.PupilDistance()
		for _, side := range []float64{-1, 1} {
			edge := func(z float64) [2]float64 { return p.at(f.Aim[0]+side*f.Field[0]/2*(u-z)/u, z) }
			if line := between(edge(v.depth[0]), edge(v.depth[1]), p.x0, p.x1); line != nil {
				p.d.Line("field", line...)
			}
		}
	}
	p.exit(pl.Request.Subject.Exit[1])
	return p.y1 + 44
}
