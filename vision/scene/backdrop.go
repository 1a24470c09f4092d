package scene

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
)

// backdropSide is the longest side of the coarse picture of the scene that is kept of a frame.
const backdropSide = 256

// Backdrop keeps a coarse picture of the scene, with what the rulers found hide left out.
func Backdrop(p pixel.Pyramid, rows []ruler.Row) ruler.Backdrop {
	g, s := p.Last()
	w, h := int(float64(p.WholeW)/s), int(float64(p.WholeH)/s)
	for max(w, h) > backdropSide && min(w, h) >= 16 && min(g.W, g.H) >= 2 {
		g, s = g.Half(), 2*s
		w, h = w/2, h/2
	}
	b := ruler.Backdrop{Width: w, Height: h, Scale: s, Tone: make([]uint8, w*h), Hidden: make([]bool, w*h)}
	for y := range h {
		for x := range w {
			i := y*w + x
			if x >= g.W || y >= g.H { // not decoded
				b.Hidden[i] = true
				continue
			}
			b.Tone[i] = g.Pix[y*g.W+x]
			b.Hidden[i] = onRuler(pixel.Full(float64(x), float64(y), s), rows)
		}
	}
	return b
}

// onRuler says whether a place lies on, or close to, a ruler that was found: in its shadow, or
// in the hand that holds it.
func onRuler(at ruler.Point, rows []ruler.Row) bool {
	for _, r := range rows {
		d := at.Sub(r.Origin)
		t, w := r.Dir.Dot(d), r.Side*r.Dir.Cross(d)
		near := t > r.Marks[0].T-20*r.Pitch && t < r.Marks[len(r.Marks)-1].T+20*r.Pitch
		if near && w > -12*r.Pitch && w < 50*r.Pitch {
			return true
		}
	}
	return false
}

// shiftOf says how far the scene of b lies from that of a, px, and with what standard uncertainty,
// by least squares on the tones (Lucas and Kanade 1981) with a gain and an offset for the flash,
// and Huber's weights against what differs. u is that along the move. ok is false where the two
// cannot be compared.
func shiftOf(a, b ruler.Backdrop) (move ruler.Point, u float64, ok bool) {
	if a.Width != b.Width || a.Height != b.Height || a.Width < 8 || a.Height < 8 || len(a.Tone) != len(b.Tone) {
		return ruler.Point{}, 0, false
	}
	f := &aligner{a: a, b: b, gain: 1}
	for pass := 0; pass < 30; pass++ {
		step, done := f.improve()
		if !done {
			return ruler.Point{}, 0, false
		}
		if step < 0.002 {
			break
		}
	}
	if math.Hypot(f.dx, f.dy) > 0.2*float64(a.Width) {
		return ruler.Point{}, 0, false
	}
	return ruler.Point{X: f.dx * a.Scale, Y: f.dy * a.Scale}, f.u * a.Scale, true
}

// aligner finds the shift (dx, dy), in places of the coarse picture, gain and offset that turn
// a into b.
type aligner struct {
	a, b         ruler.Backdrop
	dx, dy       float64
	gain, offset float64
	scale        float64 // robust scatter of what is left
	u            float64
}

// improve makes one Gauss-Newton step and returns its length.
func (f *aligner) improve() (float64, bool) {
	n, g := mat.NewSymDense(4, nil), mat.NewVecDense(4, nil)
	used, loss := 0, 0.0
	for y := 2; y < f.a.Height-2; y++ {
		for x := 2; x < f.a.Width-2; x++ {
			j, r, ok := f.row(x, y)
			if !ok {
				continue
			}
			used++
			w := 1.0
			if cut := 1.5 * max(f.scale, 0.5); math.Abs(r) > cut {
				w = cut / math.Abs(r)
			}
			loss += math.Min(math.Abs(r), 20)
			for p := range j {
				g.SetVec(p, g.AtVec(p)+w*j[p]*r)
				for q := p; q < 4; q++ {
					n.SetSym(p, q, n.At(p, q)+w*j[p]*j[q])
				}
			}
		}
	}
	if used < 200 {
		return 0, false
	}
	f.scale = 1.25 * loss / float64(used) // mean deviation of a normal distribution
	return f.solve(n, g)
}

// row is one place's derivatives and residual.
func (f *aligner) row(x, y int) (j [4]float64, r float64, ok bool) {
	i := y*f.a.Width + x
	bx, by := float64(x)+f.dx, float64(y)+f.dy
	ix, iy := int(math.Round(bx)), int(math.Round(by))
	if f.a.Hidden[i] || ix < 2 || iy < 2 || ix >= f.b.Width-2 || iy >= f.b.Height-2 || f.b.Hidden[iy*f.b.Width+ix] {
		return j, 0, false
	}
	g := pixel.Gray{W: f.b.Width, H: f.b.Height, Pix: f.b.Tone}
	v, _ := g.At(bx, by)
	l, _ := g.At(bx-1, by)
	rt, _ := g.At(bx+1, by)
	t, _ := g.At(bx, by-1)
	d, _ := g.At(bx, by+1)
	tone := float64(f.a.Tone[i])
	j = [4]float64{(rt - l) / 2, (d - t) / 2, -tone, -1}
	return j, f.gain*tone + f.offset - v, true
}

// solve takes the step, held small where the scene hardly tells a direction.
func (f *aligner) solve(n *mat.SymDense, g *mat.VecDense) (float64, bool) {
	// Where the scene has no contrast at all, a little stiffness keeps the equations solvable.
	for k := range 2 {
		n.SetSym(k, k, n.At(k, k)+1)
	}
	var d mat.VecDense
	if d.SolveVec(n, g) != nil {
		return 0, false
	}
	step := math.Hypot(d.AtVec(0), d.AtVec(1))
	k := 1.0
	if step > 2 {
		k = 2 / step
	}
	f.dx, f.dy = f.dx+k*d.AtVec(0), f.dy+k*d.AtVec(1)
	f.gain, f.offset = f.gain+d.AtVec(2), f.offset+d.AtVec(3)
	f.u = f.uncertainty(n)
	return step, true
}

// uncertainty is the standard uncertainty of the shift along itself: how far noise alone may
// carry it in that direction, gain and offset left free. Neighbouring places share light and
// blur: a quarter of them count as independent.
func (f *aligner) uncertainty(n *mat.SymDense) float64 {
	var inv mat.Dense
	if inv.Inverse(n) != nil {
		return math.Inf(1)
	}
	cov := mat.NewDense(2, 2, []float64{inv.At(0, 0), inv.At(0, 1), inv.At(1, 0), inv.At(1, 1)})
	var info mat.Dense
	if info.Inverse(cov) != nil {
		return math.Inf(1)
	}
	d := mat.NewVecDense(2, []float64{f.dx, f.dy})
	size := math.Hypot(f.dx, f.dy)
	q := mat.Inner(d, &info, d)
	if size < 1e-9 || q <= 0 {
		return 2 * max(f.scale, 0.5) * math.Sqrt(max(inv.At(0, 0), inv.At(1, 1)))
	}
	return 2 * max(f.scale, 0.5) * size / math.Sqrt(q)
}
