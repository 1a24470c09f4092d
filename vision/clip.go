package vision

import (
	"image"
	"math"

	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
)

const (
	largeClip    = 1800 // px, the most along a clip's longer side
	smallClip    = 900
	clipQuality  = 78
	clipMargin   = 14  // pitches left around a row of marks; its front end lies beyond the last of them
	clipInward   = 35  // pitches from the marks across the ruler, where its far edge was not found
	widestAspect = 2.5 // of a clip's sides
)

// clips cuts the part that shows the rulers out of the levels, at the finest that is not too large.
func clips(l pixel.Library, p pixel.Pyramid, rows []ruler.Row) ruler.Clips {
	b := clipBox(p, rows)
	return ruler.Clips{Large: clip(l, p, b, largeClip), Small: clip(l, p, b, smallClip)}
}

// region is a part of the picture, between pixels' edges: x0, y0, x1, y1.
type region struct{ x0, y0, x1, y1 float64 }

func (r *region) take(p ruler.Point) {
	r.x0, r.y0 = min(r.x0, p.X), min(r.y0, p.Y)
	r.x1, r.y1 = max(r.x1, p.X), max(r.y1, p.Y)
}

// clipBox holds all rows with what lies about them; all of the picture where there are none.
func clipBox(p pixel.Pyramid, rows []ruler.Row) region {
	whole := region{-0.5, -0.5, float64(p.W) - 0.5, float64(p.H) - 0.5}
	if len(rows) == 0 {
		return whole
	}
	r := region{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, row := range rows {
		for _, at := range corners(row) {
			r.take(at)
		}
	}
	w, h := r.x1-r.x0, r.y1-r.y0
	r.grow(max(0, h/widestAspect-w)/2, max(0, w/widestAspect-h)/2)
	return region{max(r.x0, whole.x0), max(r.y0, whole.y0), min(r.x1, whole.x1), min(r.y1, whole.y1)}
}

func (r *region) grow(dx, dy float64) {
	r.x0, r.y0, r.x1, r.y1 = r.x0-dx, r.y0-dy, r.x1+dx, r.y1+dy
}

// corners encloses a row's ruler.
func corners(row ruler.Row) (out []ruler.Point) {
	near, far := -row.Side*(row.HalfLength+clipMargin/2*row.Pitch), row.Side*clipInward*row.Pitch
	if l := row.Sides[1]; l != nil {
		far = row.Dir.Cross(l.A.Sub(row.Origin)) + row.Side*clipMargin/2*row.Pitch
	}
	first, last := row.Marks[0].T, row.Marks[len(row.Marks)-1].T
	for _, s := range row.Steps {
		if s.T > first-60*row.Pitch && s.T < last+60*row.Pitch {
			first, last = min(first, s.T), max(last, s.T)
		}
	}
	for _, t := range []float64{first - clipMargin*row.Pitch, last + clipMargin*row.Pitch} {
		for _, w := range []float64{near, far} {
			out = append(out, row.Origin.Add(row.Dir.Mul(t)).Add(row.Dir.Perp().Mul(w)))
		}
	}
	return out
}

// clip encodes a region at the finest level at which its longer side is at most long pixels.
func clip(l pixel.Library, p pixel.Pyramid, r region, long float64) ruler.Clip {
	level := 0
	for level < len(p.Levels)-1 && max(r.x1-r.x0, r.y1-r.y0) > long*p.Scale(level) {
		level++
	}
	g, s := p.Levels[level], p.Scale(level)
	x0, y0 := max(0, int((r.x0+0.5)/s)), max(0, int((r.y0+0.5)/s))
	x1, y1 := min(g.W, int(math.Ceil((r.x1+0.5)/s))), min(g.H, int(math.Ceil((r.y1+0.5)/s)))
	if x1 <= x0 || y1 <= y0 {
		return ruler.Clip{}
	}
	part := &image.Gray{Pix: g.Pix[y0*g.W+x0:], Stride: g.W, Rect: image.Rect(0, 0, x1-x0, y1-y0)}
	jpeg, err := l.EncodeJPEG(part, clipQuality)
	if err != nil {
		return ruler.Clip{} // the reading does not need it
	}
	return ruler.Clip{
		Left: float64(x0)*s - 0.5, Top: float64(y0)*s - 0.5, Scale: s,
		Width: x1 - x0, Height: y1 - y0, JPEG: jpeg,
	}
}
