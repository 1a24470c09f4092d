package edge

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Unknowns of a whole edge: its place and turn, the levels on either side, each a parabola along
// the edge, and the slope across.
const (
	wholePlace = 0
	wholeTurn  = 1
	wholeLo    = 2
	wholeHi    = 5
	wholeSlope = 8
	wholeBlur  = 9
	wholeSize  = 10
)

// wholeEdge is the fit of all pieces of an edge at once: far fewer unknowns than the pieces have
// one by one, so that an edge between two even tones is placed nearly as well as the noise allows.
type wholeEdge struct {
	a, b  float64                       // px across at the middle; turn
	mid   float64                       // px along: the edge's middle
	half  float64                       // px along: half of its length
	level [wholeSlope - wholeLo]float64 // in the order of the unknowns
	slope float64
	sigma float64
	noise float64 // mean square of the weighed residuals
}

// together fits pieces that lie along a line all at once, those left out that show something of
// their own, such as print. ok is false where fewer than half remain: the light is not so even
// along the edge.
func (f *pieces) together(list []piece, l lineFit) (lineFit, bool) {
	all := len(list)
	for 2*len(list) >= all && len(list) >= fewPieces {
		e := f.startWhole(list, l)
		fitted, ok := e.fit(f, list, l, leastRounds)
		if !ok {
			return l, false
		}
		rest := f.even(e, list)
		if len(rest) == len(list) {
			if more, ok := e.fit(f, f.slabs(e), fitted, 1); ok {
				more.n, more.lo, more.hi = fitted.n, fitted.lo, fitted.hi
				return more, true
			}
			return fitted, true
		}
		list = rest
	}
	return l, false
}

// even are the pieces that a whole edge's fit describes about as well as their own.
func (f *pieces) even(e *wholeEdge, list []piece) []piece {
	own, dof := 0.0, 0.0
	for _, p := range list {
		n := float64(len(p.samples)) - 3
		own, dof = own+p.misfit*n, dof+n
	}
	noise := own / max(1, dof)
	var out []piece
	for _, p := range list {
		ss := 0.0
		for _, q := range p.samples {
			_, r, w := e.residual(f, q, normals())
			ss += w * r * r
		}
		if ss-p.misfit*(float64(len(p.samples))-3) <= oddPiece*noise {
			out = append(out, p)
		}
	}
	return out
}

// slabs are all pieces, cut across into thin slabs of which those are kept that a whole edge's fit
// describes, with both their neighbours: print beside the edge seldom spoils all of a piece, and
// fades at its ends.
func (f *pieces) slabs(e *wholeEdge) []piece {
	n := int(f.length * float64(len(f.list)) / slabThick)
	slab := func(q edgeSample) int { return max(0, min(n-1, int(q.w/slabThick))) }
	ss, count := make([]float64, n), make([]float64, n)
	for _, p := range f.list {
		for _, q := range p.samples {
			_, r, w := e.residual(f, q, normals())
			ss[slab(q)] += w * r * r
			count[slab(q)]++
		}
	}
	plain := func(i int) bool {
		return i < 0 || i >= n || ss[i] <= e.noise*(count[i]+slabMost*math.Sqrt(2*count[i]))
	}
	var out []piece
	for _, p := range f.list {
		kept := piece{w: p.w}
		for _, q := range p.samples {
			if i := slab(q); plain(i-1) && plain(i) && plain(i+1) {
				kept.samples = append(kept.samples, q)
			}
		}
		out = append(out, kept)
	}
	return out
}

// fit improves a whole edge until its place stays, at least so many times, as the levels may be off
// at first, and gives its line.
func (e *wholeEdge) fit(f *pieces, list []piece, l lineFit, least int) (lineFit, bool) {
	n := -float64(wholeSize)
	for _, p := range list {
		n += float64(len(p.samples))
	}
	var inv mat.SymDense
	for round := range pieceRounds {
		ss, moved, ok := e.improve(f, list, &inv)
		if !ok {
			return l, false
		}
		if round+1 >= least && moved < settled {
			e.noise = ss / max(1, n)
			noise := max(1, e.noise)
			l.a, l.b, l.mid, l.n = e.a-e.b*e.mid, e.b, e.mid, len(list)
			l.u, l.turnU = math.Sqrt(noise*inv.At(wholePlace, wholePlace)),
				math.Sqrt(noise*inv.At(wholeTurn, wholeTurn))
			return l, true
		}
	}
	return l, false
}

// startWhole begins with the line and the pieces' mean levels.
func (f *pieces) startWhole(list []piece, l lineFit) *wholeEdge {
	e := &wholeEdge{mid: (l.lo + l.hi) / 2, half: (l.hi - l.lo) / 2, b: l.b, slope: f.slope, sigma: f.sigma}
	e.a = l.a + l.b*e.mid
	for _, p := range list {
		e.level[0] += p.lo / float64(len(list))
		e.level[wholeHi-wholeLo] += p.hi / float64(len(list))
	}
	return e
}

// improve makes one Gauss-Newton step. It returns the weighed sum of squares before it, and how far
// the place moved, px; inv becomes the unknowns' covariance for unit weights.
func (e *wholeEdge) improve(f *pieces, list []piece, inv *mat.SymDense) (ss, moved float64, ok bool) {
	var a [wholeSize][wholeSize]float64
	var y [wholeSize]float64
	table := normals()
	for _, p := range list {
		for _, q := range p.samples {
			j, r, w := e.residual(f, q, table)
			ss += w * r * r
			for i := range j {
				wj := w * j[i]
				y[i] += wj * r
				for k := i; k < wholeSize; k++ {
					a[i][k] += wj * j[k]
				}
			}
		}
	}
	if f.slopeU > 0 { // what is known of the slope from afar
		w := 1 / (f.slopeU * f.slopeU)
		a[wholeSlope][wholeSlope] += w
		y[wholeSlope] += w * (f.slope - e.slope)
	}
	m := mat.NewSymDense(wholeSize, nil)
	for i := range a {
		for k := i; k < wholeSize; k++ {
			m.SetSym(i, k, a[i][k])
		}
	}
	var c mat.Cholesky
	if !c.Factorize(m) || c.InverseTo(inv) != nil {
		return ss, 0, false
	}
	var d mat.VecDense
	if c.SolveVecTo(&d, mat.NewVecDense(wholeSize, y[:])) != nil {
		return ss, 0, false
	}
	e.a, e.b, e.slope = e.a+d.AtVec(wholePlace), e.b+d.AtVec(wholeTurn), e.slope+d.AtVec(wholeSlope)
	e.sigma = max(leastSigma, e.sigma+d.AtVec(wholeBlur))
	for i := range e.level {
		e.level[i] += d.AtVec(wholeLo + i)
	}
	return ss, math.Abs(d.AtVec(wholePlace)) + math.Abs(d.AtVec(wholeTurn))*e.half, true
}

// residual is a pixel's light less the model's, with the model's derivatives and its weight.
func (e *wholeEdge) residual(f *pieces, q edgeSample, table *normalTable) (j [wholeSize]float64, r, w float64) {
	x := (q.w - e.mid) / e.half
	along := [3]float64{1, x, x * x}
	var lo, hi float64
	for i, v := range along {
		lo += e.level[i] * v
		hi += e.level[wholeHi-wholeLo+i] * v
	}
	z := (q.s - e.a - e.b*(q.w-e.mid)) / e.sigma
	phi, c := table.at(z)
	k := 1 + e.slope*q.s
	steep := -k * (hi - lo) * phi / e.sigma
	j[wholePlace], j[wholeTurn] = steep, steep*(q.w-e.mid)
	for i, v := range along {
		j[wholeLo+i], j[wholeHi+i] = k*(1-c)*v, k*c*v
	}
	level := lo + (hi-lo)*c
	j[wholeSlope], j[wholeBlur] = q.s*level, steep*z
	return j, q.light - k*level, 1 / (f.lo + (f.hi-f.lo)*c)
}
