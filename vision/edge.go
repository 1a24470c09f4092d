package vision

import (
	"math"

	"leadmark/fit"
	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
)

// An edge is placed on the picture's own pixels. Across it the light is taken for a step between two levels
// blurred to a Gaussian; place and levels are fitted by least squares in each of several pieces of the edge,
// and a line goes through the places. A pixel's variance is taken from the pixels far to either side, noise and
// texture together, and in between grows with the light, as shot noise does. In white noise that is as good as can be (the Cramer-Rao bound of such an edge; S. M. Kay, Fundamentals of Statistical Signal
// Processing: Estimation Theory, 1993, sections 3.5 and 8.9), and a piece that shows something else
// stands out from the line and is left out.

const (
	pieceLength = 10.0 // px of edge in one piece, at the least
	leastLength = 3.0  // px likewise, where the edge is short
	usualPieces = 8    // of an edge that is long enough for them
	longPiece   = 40.0 // px of edge that are looked at in one piece, at the most: a ruler's long edges are known well by far less
	mostSamples = 240  // pixels in one piece, about
	mostPieces  = 32
	fewPieces   = 4
	leastSigma  = 0.45  // px, of blur: a pixel's own square has 0.29
	farReach    = 40.0  // px beyond the fit over which the light is followed
	nearHalf    = 1.5   // standard deviations of the blur, and a pixel: what counts as next to an edge
	edgeFloor   = 0.003 // px: what is left of pixels' sampling, compression and the curve of tones
)

// placedEdge is an edge with how well it is known.
type placedEdge struct {
	line   ruler.Line     // over the pieces that count
	u      float64        // px, standard uncertainty across the edge at the line's middle, by the picture's noise
	shape  func() float64 // px, likewise by the edge's own shape, which may be no plain step; worked out when asked for
	turnU  float64        // rad, of its direction
	sigma  float64        // px, of the blur
	sigmaU float64        // px
	n      int            // pieces that count
	share  float64        // of all pieces
}

// leastVariance of light: that of rounding to code values in the dark.
const leastVariance = 1e-8

// placeIn places an edge on the pyramid's finest level; lengths are in px of the picture.
func placeIn(p pixel.Pyramid, l ruler.Line, sigma, cut float64, care edgeCare) (placedEdge, bool) {
	k := p.Base
	down := func(q ruler.Point) ruler.Point { return ruler.Point{X: (q.X+0.5)/k - 0.5, Y: (q.Y+0.5)/k - 0.5} }
	e, ok := placeEdge(p.Levels[0], ruler.Line{A: down(l.A), B: down(l.B)}, sigma/k, cut/k, care)
	e.line = ruler.Line{A: pixel.Full(e.line.A.X, e.line.A.Y, k), B: pixel.Full(e.line.B.X, e.line.B.Y, k)}
	shape := e.shape
	e.shape = func() float64 { return k * shape() }
	e.u, e.sigma, e.sigmaU = e.u*k, e.sigma*k, e.sigmaU*k
	return e, ok
}

// edgeCare is how well an edge is to be placed: piece by piece, or all pieces at once as well, as ends are.
type edgeCare bool

const (
	inPieces edgeCare = false
	asWhole  edgeCare = true
)

// placeEdge places an edge that runs about along a line, from A to B. sigma is a guess at its blur, px;
// cut is how far, px, a piece may lie from the line through the others.
func placeEdge(g *pixel.Gray, l ruler.Line, sigma, cut float64, care edgeCare) (placedEdge, bool) {
	length := l.B.Sub(l.A).Len()
	n := max(min(mostPieces, int(length/pieceLength)), min(usualPieces, int(length/leastLength)))
	if n < fewPieces {
		return placedEdge{}, false
	}
	f := newPieces(g, l, n, max(leastSigma, sigma))
	f.care = care
	f.fitAll(true)
	f.settle()
	f.fitAll(false)
	e, ok := f.line(cut)
	mid := e.line.A.Add(e.line.B).Mul(0.5)
	e.shape = func() float64 {
		near, ok := f.nearer().line(cut)
		if !ok {
			return 0
		}
		// The two differ by chance too: by the variance that the pixels left out take from the better one (Hausman 1978, Econometrica 46:1251).
		d, chance := near.line.Distance(mid), max(0, near.u*near.u-e.u*e.u)
		return math.Sqrt(max(0, d*d-chance))
	}
	return e, ok
}

// nearer fits the same pieces by the pixels next to the edge alone, with blur and slope as they are: an edge that is no plain step,
// such as a bevelled one, then shows elsewhere.
func (f *pieces) nearer() *pieces {
	g := *f
	g.list = make([]piece, len(f.list))
	for k, p := range f.list {
		all := p.samples
		p.samples = nil
		for _, q := range all {
			if math.Abs(q.s-p.at) <= nearHalf*f.sigma+1 {
				p.samples = append(p.samples, q)
			}
		}
		g.list[k] = p
	}
	g.fitAll(false)
	return &g
}

// pieces are the parts of one edge.
type pieces struct {
	g        *pixel.Gray
	l        ruler.Line
	along, n ruler.Point // unit vectors along the edge and across it
	care     edgeCare
	length   float64 // px of one piece
	sigma    float64
	sigmaU   float64 // its standard uncertainty, px
	slope    float64 // relative, of the light across
	slopeU   float64 // its standard uncertainty
	lo, hi   float64 // variance of light of one pixel on either side
	list     []piece
}

// piece is the fit of one part of an edge: (1 + slope s) (lo + (hi - lo) Phi((s - at) / sigma)), s px across.
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

// improve makes one Gauss-Newton step for place and levels, and where those are free for blur and slope. It returns how far
// place and blur moved, px.
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

// good are the pieces of the sense of most that are fitted about as well as the best quarter: print beside an edge spoils some, at times
// most.
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

// line fits the line through the pieces: those of the sense of most that are fitted about as well as most,
// robustly, each weighed by its own uncertainty.
func (f *pieces) line(cut float64) (placedEdge, bool) {
	good := f.good()
	var w, at, u []float64
	for _, p := range good {
		w, at, u = append(w, p.w), append(at, p.at), append(u, p.u)
	}
	if len(w) < fewPieces {
		return placedEdge{}, false
	}
	fit := newLineFit(w, at, u, cut)
	if fit.n < fewPieces {
		return placedEdge{}, false
	}
	if f.care == asWhole {
		fit, _ = f.together(fit.near(good, cut), fit)
	}

	e := placedEdge{sigma: f.sigma, sigmaU: f.sigmaU, u: math.Hypot(fit.u, edgeFloor), turnU: fit.turnU, n: fit.n, share: float64(fit.n) / float64(len(f.list))}
	e.line = ruler.Line{A: f.place(fit.lo-f.length/2, fit), B: f.place(fit.hi+f.length/2, fit)}
	return e, true
}

func (f *pieces) place(w float64, fit lineFit) ruler.Point {
	return f.l.A.Add(f.along.Mul(w)).Add(f.n.Mul(fit.a + fit.b*w))
}
