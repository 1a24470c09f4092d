package subject

import (
	"image"
	"math"

	"leadmark/vision/animal"
	"leadmark/vision/pixel"
)

const (
	limbShare = 0.06 // of the root of the area: half the width of what counts as a limb and not as body
)

// shape is one animal on a patch of the reduced picture.
type shape struct {
	f          *difference
	x0, y0     int
	w, h       int
	own        []float32   // how much the animal itself differs from the set thereabouts, tones
	share      []float32   // how much of a pixel the animal covers, about
	mask, body *pixel.Gray // 255 where it covers half or more; the same without limbs
}

// measure turns a thing in the mask into an animal; ok is false where too little of it is left.
// soft is how wide its edges are, in reduced pixels, as far as it is known.
func (f *difference) measure(b *blob, travel animal.Point, least, soft float64) (animal.Animal, bool) {
	s := f.newShape(b, soft)
	area := 0
	for _, v := range s.mask.Pix {
		area += int(v) / 255
	}
	if float64(area) < least/2 {
		return animal.Animal{}, false
	}
	s.body = s.opened(limbShare * math.Sqrt(float64(area)))
	a := animal.Animal{Area: float64(area), Outline: s.outline(), Nose: s.nose(travel)}
	if len(a.Outline) < 3 {
		return a, false
	}
	s.box(&a)
	s.sides(&a)
	a.Clean = s.clean(a.Outline)
	return a, true
}

func (f *difference) newShape(b *blob, soft float64) *shape {
	const pad = 6
	inside := 2 + int(soft)
	x0, y0, x1, y1 := max(0, b.x0-pad), max(0, b.y0-pad), min(f.w, b.x1+pad), min(f.h, b.y1+pad)
	s := &shape{f: f, x0: x0, y0: y0, w: x1 - x0, h: y1 - y0}
	in := pixel.NewGray(s.w, s.h)
	for y := range s.h {
		for x := range s.w {
			if b.at(x0+x, y0+y) {
				in.Pix[y*s.w+x] = 255
			}
		}
	}
	fillHoles(in)
	s.tone(in, inside)
	s.cover(in, inside)
	return s
}

// d is the picture's difference from the set at a pixel of the patch.
func (s *shape) d(x, y int) float32 { return s.f.d((s.y0+y)*s.f.w + s.x0 + x) }

// tone finds how much the animal itself differs: the mean of what is near by and well inside or, in
// limbs that have no inside, the largest difference near by.
func (s *shape) tone(in *pixel.Gray, inside int) {
	r := inside + 3
	inner := s.f.library.Erode(in, inside)
	n, sum := newSums(s.w, s.h), newSums(s.w, s.h)
	for y := range s.h {
		for x := range s.w {
			v := 0.0
			if inner != nil && inner.Pix[y*s.w+x] > 0 {
				v = 1
			}
			n.put(x, y, v)
			sum.put(x, y, v*float64(s.d(x, y)))
		}
	}
	s.own = make([]float32, s.w*s.h)
	for y := range s.h {
		for x := range s.w {
			if k := n.in(x-r, y-r, x+r+1, y+r+1); k >= 4 {
				s.own[y*s.w+x] = float32(sum.in(x-r, y-r, x+r+1, y+r+1) / k)
			} else {
				s.own[y*s.w+x] = s.largest(in, x, y, inside+1)
			}
		}
	}
}

// largest is the greatest difference within r pixels, inside the mask.
func (s *shape) largest(in *pixel.Gray, x, y, r int) float32 {
	var m float32
	for v := max(0, y-r); v <= min(s.h-1, y+r); v++ {
		for u := max(0, x-r); u <= min(s.w-1, x+r); u++ {
			if in.Pix[v*s.w+u] > 0 {
				m = max(m, s.d(u, v))
			}
		}
	}
	return m
}

// cover reckons the share of each pixel and the mask at half of it.
func (s *shape) cover(in *pixel.Gray, inside int) {
	near, deep := s.f.library.Dilate(in, 2), s.f.library.Erode(in, inside+1)
	s.share = make([]float32, s.w*s.h)
	s.mask = pixel.NewGray(s.w, s.h)
	for i := range s.share {
		if own := s.own[i]; own > 0 && (near == nil || near.Pix[i] > 0) {
			s.share[i] = min(1, s.d(i%s.w, i/s.w)/own)
		}
		if s.share[i] >= 0.5 || deep != nil && deep.Pix[i] > 0 {
			s.mask.Pix[i] = 255
		}
	}
	fillHoles(s.mask)
}

// opened is the mask without what is thinner than 2r + 1 pixels.
func (s *shape) opened(r float64) *pixel.Gray {
	k := int(r + 0.5)
	if k < 1 {
		return s.mask
	}
	if e := s.f.library.Erode(s.mask, k); e != nil {
		if d := s.f.library.Dilate(e, k); d != nil && anySet(d) {
			return d
		}
	}
	return s.mask
}

// nose is the foremost part of the body along the travel, to a fraction of a pixel.
func (s *shape) nose(travel animal.Point) animal.Point {
	var at animal.Point
	best := math.Inf(-1)
	for i, v := range s.body.Pix {
		if x, y := float64(i%s.w), float64(i/s.w); v > 0 && travel.X*x+travel.Y*y > best {
			best, at = travel.X*x+travel.Y*y, animal.Point{X: x, Y: y}
		}
	}
	const step = 0.1
	for range 30 { // on to where half is covered
		next := animal.Point{X: at.X + step*travel.X, Y: at.Y + step*travel.Y}
		if s.shareAt(next) < 0.5 {
			break
		}
		at = next
	}
	return s.place(at)
}

// shareAt is the share between pixels, bilinear; 0 outside.
func (s *shape) shareAt(p animal.Point) float64 {
	x, y := int(math.Floor(p.X)), int(math.Floor(p.Y))
	if x < 0 || y < 0 || x+1 >= s.w || y+1 >= s.h {
		return 0
	}
	fx, fy := p.X-float64(x), p.Y-float64(y)
	at := func(dx, dy int) float64 { return float64(s.share[(y+dy)*s.w+x+dx]) }
	return (at(0, 0)*(1-fx)+at(1, 0)*fx)*(1-fy) + (at(0, 1)*(1-fx)+at(1, 1)*fx)*fy
}

// place turns a place of the patch into one of the reduced picture.
func (s *shape) place(p animal.Point) animal.Point {
	return animal.Point{X: p.X + float64(s.x0), Y: p.Y + float64(s.y0)}
}

// outline is the longest outer boundary of the mask.
func (s *shape) outline() []animal.Point {
	var longest []image.Point
	for _, c := range s.f.library.Contours(s.mask) {
		if len(c) > len(longest) {
			longest = c
		}
	}
	var out []animal.Point
	for _, p := range longest {
		out = append(out, s.place(animal.Point{X: float64(p.X), Y: float64(p.Y)}))
	}
	return out
}

// box encloses the mask.
func (s *shape) box(a *animal.Animal) {
	lo, hi := animal.Point{X: math.Inf(1), Y: math.Inf(1)}, animal.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for i, v := range s.mask.Pix {
		if v > 0 {
			p := s.place(animal.Point{X: float64(i % s.w), Y: float64(i / s.w)})
			lo.X, lo.Y, hi.X, hi.Y = min(lo.X, p.X), min(lo.Y, p.Y), max(hi.X, p.X), max(hi.Y, p.Y)
		}
	}
	a.Box = [2]animal.Point{lo, hi}
}

// sides tells which sides of the picture cut the animal, and how far it is from each.
func (s *shape) sides(a *animal.Animal) {
	a.Margins = [4]float64{a.Box[0].X, float64(s.f.w-1) - a.Box[1].X, a.Box[0].Y, float64(s.f.h-1) - a.Box[1].Y}
	for i, side := range []string{animal.Left, animal.Right, animal.Top, animal.Bottom} {
		if a.Margins[i] < 0.5 {
			a.Touches = append(a.Touches, side)
		}
	}
}

// clean is the share of the outline inside which the animal differs safely from the set.
func (s *shape) clean(outline []animal.Point) float64 {
	n := 0
	for _, p := range outline {
		if s.own[(int(p.Y)-s.y0)*s.w+int(p.X)-s.x0] >= alikeTones {
			n++
		}
	}
	return float64(n) / float64(len(outline))
}
