package edge

import (
	"math"

	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
)

// pieces are the parts of one edge.
type pieces struct {
	g        *pixel.Gray
	l        ruler.Line
	along, n ruler.Point // unit vectors along the edge and across it
	whole    bool        // all pieces are fitted at once as well
	length   float64     // px of one piece
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

// moments sums up numbers.
type moments struct{ n, sum, squares float64 }

func (m *moments) add(v float64) { m.n, m.sum, m.squares = m.n+1, m.sum+v, m.squares+v*v }

func (m moments) mean() (mean, variance float64) {
	mean = m.sum / max(1, m.n)
	return mean, max(0, m.squares-m.n*mean*mean) / max(1, m.n-1)
}

func newPieces(g *pixel.Gray, l ruler.Line, n int, sigma float64) *pieces {
	d := l.Dir()
	f := &pieces{g: g, l: l, along: d, n: d.Perp(), length: l.B.Sub(l.A).Len() / float64(n), sigma: sigma}
	for k := range n {
		f.list = append(f.list, piece{w: (float64(k) + 0.5) * f.length})
	}
	return f
}

// half is how far to either side pixels are taken, px: room for blur, and for a guess a little off.
func (f *pieces) half() float64 { return reachSigmas*f.sigma + reachSigmas }

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
		case q.s < -far*sideShare:
			lo.add(q.light)
		case q.s > far*sideShare:
			hi.add(q.light)
		}
	}
	p.lo, p.vlo = lo.mean()
	p.hi, p.vhi = hi.mean()
	return lo.n >= fewestBeside && hi.n >= fewestBeside
}
