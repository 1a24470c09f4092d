package marks

import (
	"math"

	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
)

// strip is the picture resampled along an axis: column i lies at t0 + i*step along it, row j at
// w0 + j*step across it, all in px of the picture. Places outside the picture are NaN.
type strip struct {
	origin, dir ruler.Point
	step        float64
	t0, w0      float64
	nt, nw      int
	val         []float32
}

// newStrip samples the whole chord of the axis through the picture, reach px to either side.
func newStrip(p pixel.Pyramid, origin, dir ruler.Point, o stripOptions) *strip {
	s := &strip{origin: origin, dir: dir, step: o.step, w0: o.middle - math.Floor(o.reach/o.step)*o.step}
	s.nw = 2*int(math.Floor(o.reach/o.step)) + 1
	lo, hi := chord(p, origin, dir, math.Abs(o.middle)+o.reach)
	lo, hi = max(lo, o.from), min(hi, o.to)
	s.t0 = math.Floor(lo/o.step) * o.step
	s.nt = max(0, int((hi-s.t0)/o.step)+1)
	s.val = o.room(s.nt * s.nw)
	level := levelFor(p, o.step)
	for j := 0; j < s.nw; j++ {
		s.fill(s.val[j*s.nt:][:s.nt], p.Levels[level], p.Scale(level), s.w(j))
	}
	return s
}

// fill samples one row, w px across, from a level by bilinear interpolation.
func (s *strip) fill(row []float32, g *pixel.Gray, scale, w float64) {
	start := s.origin.Add(s.dir.Mul(s.t0)).Add(s.dir.Perp().Mul(w))
	x0, y0 := (start.X+0.5)/scale-0.5, (start.Y+0.5)/scale-0.5
	dx, dy := s.dir.X*s.step/scale, s.dir.Y*s.step/scale
	from, to := inside(x0, dx, float64(g.W-1), 0, len(row))
	from, to = inside(y0, dy, float64(g.H-1), from, to)
	for i := range row {
		if i == from && from < to {
			to = from + sampled(g, row[from:to], x0+float64(from)*dx, y0+float64(from)*dy, dx, dy)
		}
		if i >= from && i < to {
			continue
		}
		v, ok := g.At(x0+float64(i)*dx, y0+float64(i)*dy) // on the border, or outside
		if !ok {
			v = math.NaN()
		}
		row[i] = float32(v)
	}
}

// inside narrows a range of samples to those whose coordinate a + i d lies between 0 and end.
func inside(a, d, end float64, from, to int) (int, int) {
	if math.Abs(d) < 1e-12 {
		if a < insideBy || a > end-insideBy {
			return from, from
		}
		return from, to
	}
	lo, hi := (insideBy-a)/d, (end-insideBy-a)/d
	if lo > hi {
		lo, hi = hi, lo
	}
	from = max(from, int(math.Ceil(max(lo, -1))))
	to = min(to, int(math.Floor(max(-1, min(hi, float64(to)))))+1)
	return from, max(from, to)
}

// sampled samples places in even steps, in whole numbers of 2^-20 px, as far as they lie inside the
// picture, and returns how many do. Over thousands of samples a rounded step drifts by more than
// any margin (by half of 2^-20 px each), so the last is counted in the same whole numbers.
func sampled(g *pixel.Gray, row []float32, x, y, dx, dy float64) int {
	const mask = 1<<fixedBits - 1
	ix, iy, stepX, stepY := fixed(x), fixed(y), fixed(dx), fixed(dy)
	row = row[:min(len(row), stepsInside(ix, stepX, g.W-1), stepsInside(iy, stepY, g.H-1))]
	for i := range row {
		k := (iy>>fixedBits)*g.W + ix>>fixedBits
		// 2^-8 px: a hundredth of a tone where it is steepest
		fx, fy := (ix&mask)>>(fixedBits-8), (iy&mask)>>(fixedBits-8)
		above, below := g.Pix[k:k+2], g.Pix[k+g.W:k+g.W+2]
		a := int(above[0])<<8 + fx*(int(above[1])-int(above[0]))
		b := int(below[0])<<8 + fx*(int(below[1])-int(below[0]))
		row[i] = float32(a<<8+fy*(b-a)) * (1.0 / 65536)
		ix += stepX
		iy += stepY
	}
	return len(row)
}

// fixedBits is how many binary places a coordinate in whole numbers has.
const fixedBits = 20

func fixed(v float64) int { return int(math.Round(v * (1 << fixedBits))) }

// stepsInside is how many of the places at, at + step, at + 2 step ... lie between pixel 0 and
// before pixel end, up to the first that does not.
func stepsInside(at, step, end int) int {
	end <<= fixedBits
	switch {
	case at < 0 || at >= end:
		return 0
	case step > 0:
		return (end-1-at)/step + 1
	case step < 0:
		return at/-step + 1
	}
	return math.MaxInt
}

// stripOptions say how a strip is sampled, in px of the picture.
type stripOptions struct {
	step     float64 // between samples, both ways
	middle   float64 // of the strip, across from the axis
	reach    float64 // to either side of its middle
	from, to float64 // along the axis
	old      *strip  // one whose memory may be taken; may be nil
}

// room is memory for n samples.
func (o stripOptions) room(n int) []float32 {
	if o.old != nil && cap(o.old.val) >= n {
		return o.old.val[:n]
	}
	return make([]float32, n)
}

// levelFor picks the level whose pixels are nearest to a step in size, the finer in doubt.
func levelFor(p pixel.Pyramid, step float64) int {
	level := int(math.Floor(math.Log2(step/p.Base) + finerBy))
	return max(0, min(len(p.Levels)-1, level))
}

// chord returns where the axis, widened by reach, enters and leaves the picture.
func chord(p pixel.Pyramid, origin, dir ruler.Point, reach float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	w, h := float64(p.W-1), float64(p.H-1)
	corners := []ruler.Point{{X: 0, Y: 0}, {X: w, Y: 0}, {X: 0, Y: h}, {X: w, Y: h}}
	for _, c := range corners {
		t := dir.Dot(c.Sub(origin))
		lo, hi = min(lo, t), max(hi, t)
	}
	span := func(o, d, end float64) {
		if math.Abs(d) < 1e-9 {
			return
		}
		a, b := (-reach-o)/d, (end+reach-o)/d
		lo, hi = max(lo, min(a, b)), min(hi, max(a, b))
	}
	span(origin.X, dir.X, w)
	span(origin.Y, dir.Y, h)
	return lo, hi
}

func (s *strip) t(i int) float64 { return s.t0 + float64(i)*s.step }
func (s *strip) w(j int) float64 { return s.w0 + float64(j)*s.step }

// row is the nearest row to w, bounded to the strip.
func (s *strip) row(w float64) int {
	return max(0, min(s.nw-1, int(math.Round((w-s.w0)/s.step))))
}

// across is the row of w, between rows.
func (s *strip) across(w float64) float64 { return (w - s.w0) / s.step }

// col is the column of t, between samples.
func (s *strip) col(t float64) float64 { return (t - s.t0) / s.step }

// lineAt is row j at column x, by linear interpolation; NaN outside.
func (s *strip) lineAt(j int, x float64) float64 {
	i := int(math.Floor(x))
	if i < 0 || i >= s.nt-1 {
		if i == s.nt-1 && x == float64(i) {
			return float64(s.val[j*s.nt+i])
		}
		return math.NaN()
	}
	f := x - float64(i)
	return float64(s.val[j*s.nt+i])*(1-f) + float64(s.val[j*s.nt+i+1])*f
}

// place turns strip coordinates into a place in the picture.
func (s *strip) place(t, w float64) ruler.Point {
	return s.origin.Add(s.dir.Mul(t)).Add(s.dir.Perp().Mul(w))
}

// profile averages rows j0 to j1 along the marks, which lean about the pivot row. Columns where
// less than half of the rows lie in the picture are NaN.
func (s *strip) profile(j0, j1 int, pivot float64, l lean) []float64 {
	out := make([]float64, s.nt)
	n := make([]int, s.nt)
	for j := j0; j <= j1; j++ {
		for i := range out {
			if v := s.lineAt(j, s.along(i, j, pivot, l)); v == v {
				out[i] += v
				n[i]++
			}
		}
	}
	for i := range out {
		if 2*n[i] < j1-j0+1 {
			out[i] = math.NaN()
		} else {
			out[i] /= float64(n[i])
		}
	}
	return out
}

// along is the column where the mark that crosses the pivot row at column i crosses row j.
func (s *strip) along(i, j int, pivot float64, l lean) float64 {
	return float64(i) + l.at(s.t(i))*(float64(j)-pivot)
}

// lean says how marks run: at t along the axis, shear + turn t px along per px across. Marks
// that are parallel on the ruler meet in one point of a picture, and shear is then exactly
// linear in t.
type lean struct {
	shear, turn float64
	shearU      float64 // standard uncertainty of shear, from the scatter along the row
}

func (l lean) at(t float64) float64 { return l.shear + l.turn*t }
