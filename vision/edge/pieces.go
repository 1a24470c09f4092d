package edge

import (
	"math"

	"leadmark/fit/stat"
)

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
		for range pieceRounds {
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
	f.lo, f.hi = max(leastVariance, stat.Median(lo)), max(leastVariance, stat.Median(hi))
}

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
		p.sigma = max(leastSigma, min(2*p.sigma, max(p.sigma/2, p.sigma+d[4])))
	}
	p.misfit = ss / float64(max(1, len(p.samples)-n.m))
	p.u = math.Sqrt(max(1, p.misfit) * inv)
	half := f.half()
	p.ok = math.Abs(p.at) < half && p.sigma < half && p.u < half && math.Abs(p.slope)*half < mostSlope
	return moved
}

// agree takes one blur and one slope for all pieces: the means of what most of them show.
func (f *pieces) agree() {
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
	if far, u := f.farSlope(); u > 0 && math.Abs(far-m) < slopesAlike*math.Hypot(se, u) {
		f.slope, f.slopeU = (far*se*se+m*u*u)/(se*se+u*u), se*u/math.Hypot(se, u)
	}
}

// good are the pieces of the sense of most.
func (f *pieces) good() []piece {
	var steps []float64
	for _, p := range f.list {
		if p.ok {
			steps = append(steps, p.hi-p.lo)
		}
	}
	step := stat.Median(steps)
	var out []piece
	for _, p := range f.list {
		if p.ok && (p.hi-p.lo)*step > 0 {
			out = append(out, p)
		}
	}
	return out
}
