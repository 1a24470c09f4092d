package drawing

import "math"

// Drawing is a figure as a list of strokes, areas and texts, from which an SVG file and a PNG
// picture are made alike.
type Drawing struct {
	W, H  float64        // px
	Inks  map[string]Ink // by class
	Items []Item
}

// Item is one thing drawn, in the look that its class has.
type Item struct {
	Class  string
	Points [][2]float64 // a line, closed where the class fills
	Text   string       // where it is a text, with its baseline at the first point
	Anchor string       // start, middle or end
}

// Ink is how a class looks. Colours are named as in the page's style sheet, which has them for
// light and dark.
type Ink struct {
	Fill, Stroke string
	Opacity      float64 // of the fill
	Width        float64 // of the stroke
	Dash         bool
	Size         float64 // of a text
}

// Ground lays an area of the drawing's own size below all that is drawn.
func (d *Drawing) Ground(class string) {
	back := Drawing{}
	back.Box(class, 0, 0, d.W, d.H)
	d.Items = append(back.Items, d.Items...)
}

// Area draws a polygon, which its class may fill.
func (d *Drawing) Area(class string, points [][2]float64) {
	d.Items = append(d.Items, Item{Class: class, Points: points})
}

// Line draws through points.
func (d *Drawing) Line(class string, points ...[2]float64) {
	d.Items = append(d.Items, Item{Class: class, Points: points})
}

// Box draws an upright rectangle.
func (d *Drawing) Box(class string, x0, y0, x1, y1 float64) {
	d.Area(class, [][2]float64{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}, {x0, y0}})
}

// Disc draws a disc of radius r.
func (d *Drawing) Disc(class string, x, y, r float64) {
	var p [][2]float64
	for k := range 25 {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / 24)
		p = append(p, [2]float64{x + r*cos, y + r*sin})
	}
	d.Area(class, p)
}

// Text writes s with its baseline at y; anchor is start, middle or end.
func (d *Drawing) Text(class string, x, y float64, anchor, s string) {
	d.Items = append(d.Items, Item{Class: class, Points: [][2]float64{{x, y}}, Text: s, Anchor: anchor})
}
