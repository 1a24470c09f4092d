package report

import (
	"math"
	"slices"
)

// drawing is a figure as a list of strokes, areas and texts, from which an SVG file and a PNG
// picture are made alike.
type drawing struct {
	w, h  float64
	items []item
}

// item is one thing drawn, in the look that its class has.
type item struct {
	class  string
	points [][2]float64 // a line, closed where the class fills
	text   string       // where it is a text, with its baseline at the first point
	anchor string       // start, middle or end
}

// ink is how a class looks. Colours are named as in the page's style sheet, which has them for
// light and dark.
type ink struct {
	fill, stroke string
	opacity      float64 // of the fill
	width        float64 // of the stroke
	dash         bool
	size         float64 // of a text
}

// inks are the classes of the drawn set. What is told apart differs in more than colour: by fill,
// by width, by dashes.
func inks() map[string]ink {
	return map[string]ink{
		"paper":   {fill: "paper", opacity: 1},
		"panel":   {fill: "sheet", stroke: "rule", opacity: 1, width: 1},
		"grid":    {stroke: "rule", width: 1},
		"exit":    {stroke: "ink", width: 6},
		"beam":    {stroke: "bad", width: 3, dash: true},
		"path":    {stroke: "soft", width: 1.2},
		"body":    {fill: "s5", stroke: "s5", opacity: 0.16, width: 1.2},
		"outline": {fill: "accent", stroke: "accent", opacity: 0.16, width: 1.4},
		"reach":   {stroke: "accent", width: 3},
		"field":   {stroke: "ink", width: 2, dash: true},
		"zone":    {fill: "s0", stroke: "s0", opacity: 0.14, width: 1},
		"plane":   {stroke: "s0", width: 2},
		"ray":     {stroke: "s1", width: 1.6},
		"sight":   {stroke: "soft", width: 1, dash: true},
		"head":    {fill: "s1", opacity: 1},
		"camera":  {fill: "ink", opacity: 1},
		"lens":    {fill: "soft", opacity: 0.5},
		"axis":    {stroke: "soft", width: 1.2},
		"title":   {fill: "ink", opacity: 1, size: 21},
		"label":   {fill: "ink", opacity: 1, size: 17},
		"tick":    {fill: "soft", opacity: 1, size: 15},
		"mark":    {fill: "sheet", opacity: 1, size: 15},
	}
}

func (d *drawing) area(class string, points [][2]float64) {
	d.items = append(d.items, item{class: class, points: points})
}

func (d *drawing) line(class string, points ...[2]float64) {
	d.items = append(d.items, item{class: class, points: points})
}

func (d *drawing) box(class string, x0, y0, x1, y1 float64) {
	d.area(class, [][2]float64{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}, {x0, y0}})
}

func (d *drawing) disc(class string, x, y, r float64) {
	var p [][2]float64
	for k := range 25 {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / 24)
		p = append(p, [2]float64{x + r*cos, y + r*sin})
	}
	d.area(class, p)
}

func (d *drawing) text(class string, x, y float64, anchor, s string) {
	d.items = append(d.items, item{class: class, points: [][2]float64{{x, y}}, text: s, anchor: anchor})
}

// closed is the polygon with its first point again at the end.
func closed(p [][2]float64) [][2]float64 {
	if len(p) == 0 {
		return nil
	}
	return append(slices.Clone(p), p[0])
}

// clipped is the part of a polygon inside a box (Sutherland and Hodgman 1974).
func clipped(p [][2]float64, x0, y0, x1, y1 float64) [][2]float64 {
	for _, side := range []struct {
		axis  int
		limit float64
		sign  float64
	}{{0, x0, 1}, {0, x1, -1}, {1, y0, 1}, {1, y1, -1}} {
		in := func(q [2]float64) float64 { return side.sign * (q[side.axis] - side.limit) }
		var out [][2]float64
		for i, b := range p {
			a := p[(i+len(p)-1)%len(p)]
			if da, db := in(a), in(b); (da < 0) != (db < 0) {
				t := da / (da - db)
				out = append(out, [2]float64{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1])})
			}
			if in(b) >= 0 {
				out = append(out, b)
			}
		}
		p = out
	}
	return p
}
