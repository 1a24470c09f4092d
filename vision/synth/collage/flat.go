package collage

import (
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"

	"gonum.org/v1/gonum/mat"

	"leadmark/vision/synth/plane"
)

// row is one scale of a photograph, its graduations laid flat.
type row struct {
	name  string
	step  float64 // mm
	grads []grad  // in order of their flat places
}

type grad struct {
	mm   float64     // what it reads
	flat plane.Point // mm
	seen float64     // its contrast in the photograph
}

// reading is what the row says at a flat place m: between its graduations by proportion, beyond
// them as the nearest twenty go.
func (r *row) reading(m float64) float64 {
	n := len(r.grads)
	i := min(max(1, slices.IndexFunc(r.grads, func(g grad) bool { return g.flat.X > m })), n-1)
	a, b := r.grads[i-1], r.grads[i]
	switch few := min(20, n-1); {
	case m < r.grads[0].flat.X:
		a, b = r.grads[0], r.grads[few]
	case m > r.grads[n-1].flat.X:
		a, b = r.grads[n-1-few], r.grads[n-1]
	}
	return a.mm + (b.mm-a.mm)*(m-a.flat.X)/(b.flat.X-a.flat.X)
}

// Ruler is one that was cut out.
type Ruler struct {
	Name    string
	photo   *photograph
	back    plane.Map // flat mm to px of the photograph
	outline outline
	rows    []row
	perMM   float64        // px of the photograph a mm, at its least
	corners [4]plane.Point // flat
	left    float64        // flat m of the ends, at the middle of the width
	right   float64
	width   [2]float64 // flat w of the long edges, at the middle
	sides   [4]line
	round   float64 // +1: the outline's corners go round as x turns to y
}

// flatten lays a ruler flat by its first scale.
func flatten(folder string, o outline, t truthFile) (*Ruler, error) {
	i := slices.IndexFunc(t.Images, func(im truthImage) bool { return im.File == o.file })
	if i < 0 || len(t.Images[i].Scales) == 0 {
		return nil, fmt.Errorf("%s: truth.json has no scale of it", o.file)
	}
	photo, err := load(filepath.Join(folder, o.folder, o.file), o.turned)
	if err != nil {
		return nil, err
	}
	r := &Ruler{Name: o.file, photo: photo, outline: o}
	for k, s := range t.Images[i].Scales {
		var at []plane.Point
		var mm []float64
		for _, g := range s.Graduations {
			at, mm = append(at, plane.Point{X: g.X, Y: g.Y}), append(mm, g.MM)
		}
		if k == 0 {
			if r.back, err = flatMap(at, mm, o); err != nil {
				return nil, fmt.Errorf("%s: %w", o.file, err)
			}
		}
		r.rows = append(r.rows, r.flatRow(s.Spacing, s.Unit, at, mm))
	}
	if o.finest > 0 {
		r.rows[0].step = o.finest
	}
	r.measure()
	return r, nil
}

// flatMap is the map from the flat ruler, (what the first scale reads, mm across towards the
// ruler's middle), to the photograph: graduations are on a straight line at (a + b m) / (1 + c m)
// px, and run as an end of the outline does, or square to the line where there is none.
func flatMap(at []plane.Point, mm []float64, outline outline) (plane.Map, error) {
	n, c := len(at), outline.corners
	o := at[0]
	d := at[n-1].Sub(o)
	d = d.Mul(1 / d.Len())
	a, b := mat.NewDense(n, 3, nil), mat.NewVecDense(n, nil)
	for i, p := range at {
		t := p.Sub(o).Dot(d)
		a.SetRow(i, []float64{1, mm[i], -mm[i] * t})
		b.SetVec(i, t)
	}
	var x mat.VecDense
	if err := x.SolveVec(a, b); err != nil {
		return plane.Map{}, err
	}
	across := plane.Point{X: -d.Y, Y: d.X}
	side := across
	if outline.left {
		side = c[3].Sub(c[0])
	} else if outline.right {
		side = c[2].Sub(c[1])
	}
	e := side.Mul(1 / side.Len())
	middle := c[0].Add(c[1]).Add(c[2]).Add(c[3]).Mul(0.25)
	if middle.Sub(o).Dot(across)*e.Dot(across) < 0 {
		e = e.Mul(-1)
	}
	p, q, w := x.AtVec(0), x.AtVec(1), x.AtVec(2)
	s := math.Abs(q - p*w)
	if s == 0 {
		return plane.Map{}, errors.New("graduations that do not run anywhere")
	}
	return plane.Map{o.X*w + d.X*q, e.X * s, o.X + d.X*p, o.Y*w + d.Y*q, e.Y * s, o.Y + d.Y*p, w, 0, 1}, nil
}

// flatRow lays a row's graduations flat and measures how they stand out.
func (r *Ruler) flatRow(step float64, unit string, at []plane.Point, mm []float64) row {
	out := row{name: fmt.Sprintf("%.4g mm (%s)", step, unit), step: step}
	in := r.back.Inverse()
	for i, p := range at {
		out.grads = append(out.grads, grad{mm: mm[i], flat: in.At(p), seen: r.contrast(at, i)})
	}
	slices.SortFunc(out.grads, func(a, b grad) int {
		if a.flat.X < b.flat.X {
			return -1
		}
		return 1
	})
	return out
}

// contrast is how much a graduation's light differs from that half way to the next, of the brighter.
func (r *Ruler) contrast(at []plane.Point, i int) float64 {
	k := i + 1
	if k == len(at) {
		k = i - 1
	}
	gap := at[k].Sub(at[i])
	pitch := gap.Len()
	ink, paper := r.bright(at[i], pitch/8), r.bright(at[i].Add(gap.Mul(0.5)), pitch/8)
	return math.Abs(ink-paper) / max(ink, paper, 1e-4)
}

func (r *Ruler) bright(p plane.Point, px float64) float64 {
	c := r.photo.at(p.X, p.Y, px)
	return 0.2126*float64(c[0]) + 0.7152*float64(c[1]) + 0.0722*float64(c[2])
}

// measure finds where the outline lies on the flat ruler.
func (r *Ruler) measure() {
	in := r.back.Inverse()
	for i, c := range r.outline.corners {
		r.corners[i] = in.At(c)
	}
	mid := func(a, b plane.Point) plane.Point { return a.Add(b).Mul(0.5) }
	l, h := mid(r.corners[0], r.corners[3]), mid(r.corners[1], r.corners[2])
	r.left, r.right = l.X, h.X
	r.width = [2]float64{mid(r.corners[0], r.corners[1]).Y, mid(r.corners[2], r.corners[3]).Y}
	o := r.outline.corners
	defer r.border()
	a, b := o[1].Sub(o[0]), o[3].Sub(o[0])
	r.round, r.perMM = math.Copysign(1, a.X*b.Y-a.Y*b.X), math.Inf(1)
	for _, g := range r.rows[0].grads {
		along, _ := r.back.Slope(g.flat)
		r.perMM = min(r.perMM, along.Len()/float64(int(1)<<r.photo.first))
	}
}

// line is where a x + b y + c = 0; that is a distance, px.
type line struct{ a, b, c float64 }

func (l line) at(p plane.Point) float64 { return l.a*p.X + l.b*p.Y + l.c }

// border sets the lines of the outline, its inset taken off: positive inside.
func (r *Ruler) border() {
	for i := range r.sides {
		a, b := r.outline.corners[i], r.outline.corners[(i+1)%4]
		e := b.Sub(a)
		e = e.Mul(r.round / e.Len())
		r.sides[i] = line{-e.Y, e.X, e.Y*a.X - e.X*a.Y - r.outline.inset}
	}
}
