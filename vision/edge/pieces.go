package edge

import (
	"math"

	"leadmark/fit"
	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
)

// pieces are the parts of one edge.
type pieces struct {
	g        *pixel.Gray
	l        ruler.Line
	along, n ruler.Point // unit vectors along the edge and across it
	care     Care
	length   float64 // px of one piece
	sigma    float64
	sigmaU   float64 // its standard uncertainty, px
	slope    float64 // relative, of the light across
	slopeU   float64 // its standard uncertainty
	lo, hi   float64 // variance of light of one pixel on either side
	list     []piece
}

// piece is the fit of one part of an edge: (1 + slope s) (lo + (hi - lo) Phi((s - at) / sigma)), s
// px across.
type piece struct {
	w, at, u float64 // px along from A; px across; standard uncertainty
	lo, hi   float64 // light
	slope    float64 // relative, of the light per px across, on both sides
	vlo, vhi float64 // variance of one pixel's light on either side
	sigma    float64
	misfit   float64 // mean squared residual, in standard deviations
	samples  []edgeSample
	ok       bool
}

type edgeSample struct{ s, w, light float64 } // px across and along; light

func newPieces(g *pixel.Gray, l ruler.Line, n int, sigma float64) *pieces {
	d := l.Dir()
	f := &pieces{g: g, l: l, along: d, n: d.Perp(), length: l.B.Sub(l.A).Len() / float64(n), sigma: sigma}
	for k := range n {
		f.list = append(f.list, piece{w: (float64(k) + 0.5) * f.length})
	}
	return f
}

// half is how far to either side pixels are taken, px: room for blur, and for a guess a little off.
func (f *pieces) half() float64 { return 3*f.sigma + 3 }

func (f *pieces) fitAll(free bool) {
	half := f.half()
	if free {
		for k := range f.list {
			p := &f.list[k]
			f.gather(p, half)
			p.ok = p.start()
		}
		f.variances()
	}
	for k := range f.list {
		p := &f.list[k]
		p.sigma, p.slope = f.sigma, f.slope
		for range 8 {
			if moved := p.improve(f, free); !p.ok || moved < settled {
				break
			}
		}
	}
}

// variances takes those of the median piece.
func (f *pieces) variances() {
	var lo, hi []float64
	for _, p := range f.list {
		if p.ok {
			lo, hi = append(lo, p.vlo), append(hi, p.vhi)
		}
	}
	f.lo, f.hi = max(leastVariance, fit.Median(lo)), max(leastVariance, fit.Median(hi))
}

// gather takes the pixels whose centres lie within a piece.
func (f *pieces) gather(p *piece, half float64) { f.gatherFrom(p, 0, half) }

// gatherFrom takes those within half of a place s px across.
func (f *pieces) gatherFrom(p *piece, from, half float64) {
	mid := f.l.A.Add(f.along.Mul(p.w)).Add(f.n.Mul(from))
	// Line by line of the picture that the edge crosses: rows for an upright edge, else columns.
	long := min(f.length, longPiece)
	rx := math.Abs(f.along.X)*long/2 + math.Abs(f.n.X)*half
	ry := math.Abs(f.along.Y)*long/2 + math.Abs(f.n.Y)*half
	x0, x1 := max(0, int(math.Ceil(mid.X-rx))), min(f.g.W-1, int(math.Floor(mid.X+rx)))
	y0, y1 := max(0, int(math.Ceil(mid.Y-ry))), min(f.g.H-1, int(math.Floor(mid.Y+ry)))
	stride := max(1, int(4*rx*ry/mostSamples)) // a wide, soft edge is no better known by all its pixels
	p.samples = make([]edgeSample, 0, max(0, (x1-x0)/stride+1)*max(0, y1-y0+1))
	for y := y0; y <= y1; y++ {
		row := f.g.Pix[y*f.g.W:]
		for x := x0 + y%stride; x <= x1; x += stride {
			dx, dy := float64(x)-mid.X, float64(y)-mid.Y
			s := f.n.X*dx + f.n.Y*dy
			if w := f.along.X*dx + f.along.Y*dy; math.Abs(s) <= half && w >= -long/2 && w < long/2 {
				p.samples = append(p.samples, edgeSample{s + from, p.w + w, pixel.Light(row[x])})
			}
		}
	}
}

// start takes levels and variances from the outer parts.
func (p *piece) start() bool {
	far := 0.0
	for _, q := range p.samples {
		far = max(far, math.Abs(q.s))
	}
	var lo, hi moments
	for _, q := range p.samples {
		switch {
		case q.s < -far*0.6:
			lo.add(q.light)
		case q.s > far*0.6:
			hi.add(q.light)
		}
	}
	p.lo, p.vlo = lo.mean()
	p.hi, p.vhi = hi.mean()
	return lo.n >= 4 && hi.n >= 4
}

// moments sums up numbers.
type moments struct{ n, sum, squares float64 }

func (m *moments) add(v float64) { m.n, m.sum, m.squares = m.n+1, m.sum+v, m.squares+v*v }

func (m moments) mean() (mean, variance float64) {
	mean = m.sum / max(1, m.n)
	return mean, max(0, m.squares-m.n*mean*mean) / max(1, m.n-1)
}

// settled is a step, px, below which a fit need not be improved.
const settled = 0.001

// improve makes one Gauss-Newton step for place and levels, and where those are free for blur and
// slope. It returns how far place and blur moved, px.
func (p *piece) improve(f *pieces, free bool) (moved float64) {
	n := newNormal(3)
	if free {
		n = newNormal(edgeUnknowns)
	}
	var ss float64
	step := p.hi - p.lo
	table := normals()
	for _, q := range p.samples {
		z := (q.s - p.at) / p.sigma
		phi, c := table.at(z)
		phi /= p.sigma
		k := 1 + p.slope*q.s
		w := 1 / (f.lo + (f.hi-f.lo)*c)
		level := p.lo + step*c
		r := q.light - k*level
		ss += w * r * r
		n.add([edgeUnknowns]float64{-k * step * phi, k * (1 - c), k * c, q.s * level, -k * step * phi * z}, r, w)
	}
	d, inv, ok := n.solve()
	if !ok {
		p.ok = false
		return 0
	}
	moved = math.Abs(d[0])
	p.at += max(-p.sigma, min(p.sigma, d[0]))
	p.lo, p.hi = p.lo+d[1], p.hi+d[2]
	if free {
		p.slope += d[3]
		moved = max(moved, math.Abs(d[4]))
		p.sigma = max(leastSigma, min(2*p.sigma, max(0.5*p.sigma, p.sigma+d[4])))
	}
	p.misfit = ss / float64(max(1, len(p.samples)-n.m))
	p.u = math.Sqrt(max(1, p.misfit) * inv)
	half := f.half()
	p.ok = math.Abs(p.at) < half && p.sigma < half && p.u < half && math.Abs(p.slope)*half < 0.5
	return moved
}

// settle takes one blur and one slope for all pieces: the means of what most of them show.
func (f *pieces) settle() {
	var sigma, slope []float64
	for _, p := range f.good() {
		if p.sigma > 0 { // those fitted
			sigma, slope = append(sigma, p.sigma), append(slope, p.slope)
		}
	}
	if len(sigma) > 0 {
		f.sigma, f.sigmaU = middling(sigma)
	}
	m, se := middling(slope)
	f.slope, f.slopeU = m*max(0, 1-se*se/(m*m)), se // shrunk towards none by its own uncertainty
	if far, u := f.farSlope(); u > 0 && math.Abs(far-m) < 4.5*math.Hypot(se, u) {
		f.slope, f.slopeU = (far*se*se+m*u*u)/(se*se+u*u), se*u/math.Hypot(se, u)
	}
}

// good are the pieces of the sense of most that are fitted about as well as the best quarter: print
// beside an edge spoils some, at times most.
func (f *pieces) good() []piece {
	const about = 5
	var steps, rough []float64
	for _, p := range f.list {
		if p.ok {
			steps, rough = append(steps, p.hi-p.lo), append(rough, p.misfit)
		}
	}
	if len(rough) == 0 {
		return nil
	}
	step, best := fit.Median(steps), bestQuarter(rough)
	var out []piece
	for _, p := range f.list {
		if p.ok && (p.hi-p.lo)*step > 0.15*step*step && p.misfit < about*best {
			out = append(out, p)
		}
	}
	return out
}

// line fits the line through the pieces: those of the sense of most that are fitted about as well
// as most, robustly, each weighed by its own uncertainty.
func (f *pieces) line(cut float64) (Placed, bool) {
	good := f.good()
	var w, at, u []float64
	for _, p := range good {
		w, at, u = append(w, p.w), append(at, p.at), append(u, p.u)
	}
	if len(w) < fewPieces {
		return Placed{}, false
	}
	through := newLineFit(w, at, u, cut)
	if through.n < fewPieces {
		return Placed{}, false
	}
	if f.care == AsWhole {
		through, _ = f.together(through.near(good, cut), through)
	}

	e := Placed{Sigma: f.sigma, SigmaU: f.sigmaU, U: math.Hypot(through.u, edgeFloor), TurnU: through.turnU, n: through.n, Share: float64(through.n) / float64(len(f.list))}
	e.Line = ruler.Line{A: f.place(through.lo-f.length/2, through), B: f.place(through.hi+f.length/2, through)}
	return e, true
}

func (f *pieces) place(w float64, fit lineFit) ruler.Point {
	return f.l.A.Add(f.along.Mul(w)).Add(f.n.Mul(fit.a + fit.b*w))
}
