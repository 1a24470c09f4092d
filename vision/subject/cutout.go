package subject

import (
	"context"
	"errors"
	"image"
	"image/color"
	"math"
	"slices"

	"leadmark/vision/animal"
	"leadmark/vision/edge"
	"leadmark/vision/frame"
	"leadmark/vision/pixel"
)

const (
	clearAlpha  = 0.08 // coverage below which a pixel is none of the animal
	solidAlpha  = 0.92 // and above which it is all of it
	spillAbove  = 1.4  // times its next by which the backdrop's strongest colour is taken off where it spills
	mostSoft    = 40   // px, of an edge's width
	cutoutSpare = 4    // px about a cut-out
)

// Cutout cuts the largest animal out of a frame at full size: coverage becomes opacity, so that
// soft edges stay soft, and in the edge the backdrop's light is taken out of the colours. h is as
// for Look. It is nil where no animal is found.
func (s *Finder) Cutout(ctx context.Context, f frame.Frame, h Hint) (cut *image.NRGBA, err error) {
	defer pixel.Guard(func(fault error) { cut, err = nil, fault })
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if f.Width != s.w || f.Height != s.h {
		return nil, errors.New("the picture is of another size than the set")
	}
	p, err := s.decoder.Open(f)
	if err != nil {
		return nil, err
	}
	defer p.Close()
	seen, err := s.find(p, h)
	if err != nil || len(seen.Found) == 0 {
		return nil, err
	}
	return s.cut(p, seen.Found[0])
}

// cut cuts an animal out.
func (s *Finder) cut(p *pixel.Photo, a animal.Animal) (*image.NRGBA, error) {
	small := p.Small()
	f := s.difference()
	defer s.spare.Put(f)
	f.compare(small, s.back)
	soft := s.k + 2
	if e := a.Edges; e != nil {
		soft += int(min(mostSoft, 2*e.Blur+e.Motion/2))
	}
	box := image.Rect(int(a.Box[0].X), int(a.Box[0].Y), int(a.Box[1].X)+1, int(a.Box[1].Y)+1)
	r := box.Inset(-2*soft - cutoutSpare).Intersect(image.Rect(0, 0, s.w, s.h))
	pic, err := p.Part(r, false)
	if err != nil {
		return nil, err
	}
	c := &cutout{library: s.decoder.Library, Patch: edge.NewPatch(pic, r.Min, f.back, s.k, image.Pt(1, 1)), soft: soft}
	c.mask = filledOutline(a.Outline, r)
	return c.picture(), nil
}

// cutout is one animal being cut out.
type cutout struct {
	*edge.Patch
	library pixel.Library
	mask    *pixel.Gray // 255 inside the outline
	soft    int         // px: how far from the outline a pixel may be covered in part
}

// own are sums over the animal's own pixels near a place: those that lie well inside or, in limbs
// that have no inside, less well inside.
type own struct {
	count  *sums
	light  [3]*sums
	differ [3]*sums
	square [3][3]*sums // of differences from the set
	r      int
}

// owns are what may be asked for, the pixels farthest inside first.
func (c *cutout) owns() []*own {
	var all []*own
	for _, depth := range []int{c.soft, c.soft / 2, 1, 0} {
		if inside := c.library.Erode(c.mask, depth); inside != nil {
			all = append(all, c.sum(inside, 2*depth+4))
		}
	}
	return all
}

func (c *cutout) sum(inside *pixel.Gray, r int) *own {
	at, size := c.Bounds().Min, c.Bounds().Size()
	w, h := size.X, size.Y
	o := &own{count: newSums(w, h), r: r}
	for k := range 3 {
		o.light[k], o.differ[k] = newSums(w, h), newSums(w, h)
		for l := k; l < 3; l++ {
			o.square[k][l] = newSums(w, h)
		}
	}
	for y := range h {
		for x := range w {
			n := float64(inside.Pix[y*w+x]) / 255
			var light, d [3]float64
			if n > 0 {
				light, d = c.Patch.Light(at.X+x, at.Y+y), c.Differs(at.X+x, at.Y+y)
			}
			o.count.put(x, y, n)
			for k := range 3 {
				o.light[k].put(x, y, light[k])
				o.differ[k].put(x, y, d[k])
				for l := k; l < 3; l++ {
					o.square[k][l].put(x, y, d[k]*d[l])
				}
			}
		}
	}
	return o
}

// about are the mean light about a place and the weights of the channels by which all of the
// animal's shades there differ from the set by 1, as unmixed has them; ok is false where there are
// too few pixels.
func (o *own) about(x, y int) (mean, weights [3]float64, ok bool) {
	const stiff = 3e-4 // squared light: the noise of a pixel
	in := func(s *sums) float64 { return s.in(x-o.r, y-o.r, x+o.r+1, y+o.r+1) }
	count := in(o.count)
	if count < 3 {
		return mean, weights, false
	}
	var differ [3]float64
	var square [3][3]float64
	for k := range 3 {
		mean[k], differ[k] = in(o.light[k])/count, in(o.differ[k])/count
		for l := k; l < 3; l++ {
			square[k][l] = in(o.square[k][l]) / count
		}
		square[k][k] += stiff
	}
	weights, ok = edge.Weights(square, differ)
	return mean, weights, ok
}

// picture makes the cut-out.
func (c *cutout) picture() *image.NRGBA {
	at, size := c.Bounds().Min, c.Bounds().Size()
	w, h := size.X, size.Y
	out := image.NewNRGBA(image.Rect(0, 0, w, h))
	near, deep := c.library.Dilate(c.mask, c.soft), c.library.Erode(c.mask, c.soft)
	if near == nil || deep == nil {
		return out
	}
	owns := c.owns()
	for i := range near.Pix {
		x, y := i%w, i/w
		if near.Pix[i] == 0 {
			continue
		}
		light, alpha := c.Patch.Light(at.X+x, at.Y+y), 1.0
		set := c.Set(at.X+x, at.Y+y)
		if deep.Pix[i] == 0 {
			light, alpha = unmix(light, set, owns, x, y)
		}
		light = withoutSpill(light, set)
		out.SetNRGBA(x, y, color.NRGBA{
			R: pixel.Tone(light[0]), G: pixel.Tone(light[1]), B: pixel.Tone(light[2]),
			A: uint8(math.Round(255 * alpha)),
		})
	}
	return out
}

// unmix tells how much of a pixel near the outline the animal covers, and the animal's light there.
// Where little is covered that is its light near by.
func unmix(light, set [3]float64, owns []*own, x, y int) ([3]float64, float64) {
	for _, o := range owns {
		mean, weights, ok := o.about(x, y)
		if !ok {
			continue
		}
		alpha := 0.0
		for k, w := range weights {
			alpha += w * (light[k] - set[k])
		}
		switch {
		case alpha < clearAlpha:
			return mean, 0
		case alpha > solidAlpha:
			return light, 1
		}
		for k := range mean {
			mine := max(0, set[k]+(light[k]-set[k])/alpha)
			mean[k] += alpha * (mine - mean[k])
		}
		return mean, alpha
	}
	return light, 0
}

// withoutSpill keeps the backdrop's colour from exceeding the animal's others (common practice, no
// source).
func withoutSpill(light, set [3]float64) [3]float64 {
	key := 0
	for k := range set {
		if set[k] > set[key] {
			key = k
		}
	}
	a, b := light[(key+1)%3], light[(key+2)%3]
	if set[key] > spillAbove*max(set[(key+1)%3], set[(key+2)%3]) {
		light[key] = min(light[key], max(a, b))
	}
	return light
}

// filledOutline is the inside of an outline with its points, over a part of the picture.
func filledOutline(p []animal.Point, r image.Rectangle) *pixel.Gray {
	g := pixel.NewGray(r.Dx(), r.Dy())
	for y := range g.H {
		at := float64(r.Min.Y + y)
		var xs []float64
		for i, b := range p {
			a := p[(i+len(p)-1)%len(p)]
			if (a.Y > at) != (b.Y > at) {
				xs = append(xs, a.X+(at-a.Y)/(b.Y-a.Y)*(b.X-a.X)-float64(r.Min.X))
			}
		}
		slices.Sort(xs)
		for i := 0; i+1 < len(xs); i += 2 {
			for x := max(0, int(math.Ceil(xs[i]))); x <= min(g.W-1, int(xs[i+1])); x++ {
				g.Pix[y*g.W+x] = 255
			}
		}
	}
	return g
}
