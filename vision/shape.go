package vision

import (
	"image"
	"math"

	"gocv.io/x/gocv"

	"leadmark/vision/animal"
)

const (
	limbShare = 0.06 // of the root of the area: half the width of what counts as a limb and not as body
)

// shape is one animal on a patch of the reduced picture.
type shape struct {
	f          *difference
	x0, y0     int
	w, h       int
	own        []float32 // how much the animal itself differs from the set thereabouts, tones
	share      []float32 // how much of a pixel the animal covers, about
	mask, body *gray     // 255 where it covers half or more; the same without limbs
}

// measure turns a thing in the mask into an animal; ok is false where too little of it is left.
// soft is how wide its edges are, in reduced pixels, as far as it is known.
func (f *difference) measure(b *blob, travel animal.Point, least, soft float64) (animal.Animal, bool) {
	s := f.newShape(b, soft)
	area := 0
	for _, v := range s.mask.pix {
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
	in := newGray(s.w, s.h)
	for y := range s.h {
		for x := range s.w {
			if b.at(x0+x, y0+y) {
				in.pix[y*s.w+x] = 255
			}
		}
	}
	in.fillHoles()
	s.tone(in, inside)
	s.cover(in, inside)
	return s
}

// d is the picture's difference from the set at a pixel of the patch.
func (s *shape) d(x, y int) float32 { return s.f.d((s.y0+y)*s.f.w + s.x0 + x) }

// tone finds how much the animal itself differs: the mean of what is near by and well inside or, in limbs that have no inside,
// the largest difference near by.
func (s *shape) tone(in *gray, inside int) {
	r := inside + 3
	inner := in.eroded(inside)
	n, sum := newSums(s.w, s.h), newSums(s.w, s.h)
	for y := range s.h {
		for x := range s.w {
			v := 0.0
			if inner != nil && inner.pix[y*s.w+x] > 0 {
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
func (s *shape) largest(in *gray, x, y, r int) float32 {
	var m float32
	for v := max(0, y-r); v <= min(s.h-1, y+r); v++ {
		for u := max(0, x-r); u <= min(s.w-1, x+r); u++ {
			if in.pix[v*s.w+u] > 0 {
				m = max(m, s.d(u, v))
			}
		}
	}
	return m
}

// cover reckons the share of each pixel and the mask at half of it.
func (s *shape) cover(in *gray, inside int) {
	near, deep := in.dilated(2), in.eroded(inside+1)
	s.share = make([]float32, s.w*s.h)
	s.mask = newGray(s.w, s.h)
	for i := range s.share {
		if own := s.own[i]; own > 0 && (near == nil || near.pix[i] > 0) {
			s.share[i] = min(1, s.d(i%s.w, i/s.w)/own)
		}
		if s.share[i] >= 0.5 || deep != nil && deep.pix[i] > 0 {
			s.mask.pix[i] = 255
		}
	}
	s.mask.fillHoles()
}

// opened is the mask without what is thinner than 2r + 1 pixels.
func (s *shape) opened(r float64) *gray {
	k := int(r + 0.5)
	if k < 1 {
		return s.mask
	}
	if e := s.mask.eroded(k); e != nil {
		if d := e.dilated(k); d != nil && d.any() {
			return d
		}
	}
	return s.mask
}

// nose is the foremost part of the body along the travel, to a fraction of a pixel.
func (s *shape) nose(travel animal.Point) animal.Point {
	var at animal.Point
	best := math.Inf(-1)
	for i, v := range s.body.pix {
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
	m, ok := s.mask.asMat()
	if !ok {
		return nil
	}
	defer m.Close()
	all := gocv.FindContours(m, gocv.RetrievalExternal, gocv.ChainApproxNone)
	defer all.Close()
	best := -1
	for i := range all.Size() {
		if best < 0 || all.At(i).Size() > all.At(best).Size() {
			best = i
		}
	}
	if best < 0 {
		return nil
	}
	var out []animal.Point
	for _, p := range all.At(best).ToPoints() {
		out = append(out, s.place(animal.Point{X: float64(p.X), Y: float64(p.Y)}))
	}
	return out
}

// box encloses the mask.
func (s *shape) box(a *animal.Animal) {
	lo, hi := animal.Point{X: math.Inf(1), Y: math.Inf(1)}, animal.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for i, v := range s.mask.pix {
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

// sums is a table of sums over all pixels above and to the left.
type sums struct {
	w, h int
	v    []float64
}

func newSums(w, h int) *sums { return &sums{w, h, make([]float64, (w+1)*(h+1))} }

// put sets a pixel; all are set, row by row.
func (s *sums) put(x, y int, v float64) {
	k := s.w + 1
	i := (y+1)*k + x + 1
	s.v[i] = v + s.v[i-1] + s.v[i-k] - s.v[i-k-1]
}

// in is the sum over a box, the far sides not included.
func (s *sums) in(x0, y0, x1, y1 int) float64 {
	x0, y0, x1, y1 = max(0, x0), max(0, y0), min(s.w, x1), min(s.h, y1)
	k := s.w + 1
	return s.v[y1*k+x1] - s.v[y0*k+x1] - s.v[y1*k+x0] + s.v[y0*k+x0]
}

// eroded and dilated work with a disc of radius r; what lies outside the picture counts neither way. They are nil where OpenCV cannot.
func (g *gray) eroded(r int) *gray {
	return g.morphed(r, func(src gocv.Mat, dst *gocv.Mat, disc gocv.Mat) { gocv.Erode(src, dst, disc) })
}

func (g *gray) dilated(r int) *gray {
	return g.morphed(r, func(src gocv.Mat, dst *gocv.Mat, disc gocv.Mat) { gocv.Dilate(src, dst, disc) })
}

func (g *gray) morphed(r int, do func(src gocv.Mat, dst *gocv.Mat, disc gocv.Mat)) *gray {
	if r < 1 {
		return g
	}
	disc := gocv.GetStructuringElement(gocv.MorphEllipse, image.Pt(2*r+1, 2*r+1))
	defer disc.Close()
	return g.turned(g.w, g.h, func(src gocv.Mat, dst *gocv.Mat) { do(src, dst, disc) })
}

func (g *gray) any() bool {
	for _, v := range g.pix {
		if v > 0 {
			return true
		}
	}
	return false
}

// fillHoles sets what cannot be reached from the picture's rim over pixels that are 0.
func (g *gray) fillHoles() {
	seen := make([]bool, len(g.pix))
	var stack []int
	visit := func(x, y int) {
		if x < 0 || y < 0 || x >= g.w || y >= g.h {
			return
		}
		if i := y*g.w + x; g.pix[i] == 0 && !seen[i] {
			seen[i] = true
			stack = append(stack, i)
		}
	}
	for x := range g.w {
		visit(x, 0)
		visit(x, g.h-1)
	}
	for y := range g.h {
		visit(0, y)
		visit(g.w-1, y)
	}
	for len(stack) > 0 {
		i := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		x, y := i%g.w, i/g.w
		visit(x-1, y)
		visit(x+1, y)
		visit(x, y-1)
		visit(x, y+1)
	}
	for i := range g.pix {
		if g.pix[i] == 0 && !seen[i] {
			g.pix[i] = 255
		}
	}
}
