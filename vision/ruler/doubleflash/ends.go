package doubleflash

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"leadmark/vision/ruler"
)

// pair is two edges across the ruler that may be its front end as the two flashes show it.
type pair struct{ rear, lead ruler.Step }

// weight says how plainly they show.
func (p pair) weight() float64 {
	return min(math.Abs(p.rear.Contrast), math.Abs(p.lead.Contrast)) * p.rear.Coherent * p.lead.Coherent
}

// pairs lists the edges alike in sense that may be the two front ends, the plainest first.
func (s *search) pairs(c comb) (out []pair) {
	last := s.row.Marks[len(s.row.Marks)-1].T
	if s.forward < 0 {
		last = s.row.Marks[0].T
	}
	for _, a := range s.row.Steps {
		for _, b := range s.row.Steps {
			apart := s.forward * (c.Index(b.T) - c.Index(a.T))
			beyond := s.forward * (c.Index(b.T) - c.Index(last))
			ratio := b.Contrast / a.Contrast
			if apart > leastMove && apart < mostMove && ratio > 1/mostUnlike && ratio < mostUnlike &&
				beyond > -ruler.StrayMarks && beyond < ruler.EndReach && min(a.Coherent, b.Coherent) > leastCoherent {
				out = append(out, pair{a, b})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b pair) int { return cmp.Compare(b.weight(), a.weight()) })
	return out[:min(len(out), mostPairs)]
}

// ends says for each flash by how many nats its lines run up to its front end and no further, rather
// than not up to it, or on; at most surelyEnds.
func (s *search) ends(f *found) (nats [2]float64) {
	blank := 0.0
	if s.spec.Front != nil {
		blank = max(0, -*s.spec.Front/f.pattern.Graduation)
	}
	past := 0.5 // from where on no line is to follow, beyond the end
	if blank >= pastLines+past {
		past -= blank // beyond the last line
	}
	rear, lead := s.forward*f.Index(f.rear.T), s.forward*f.Index(f.lead.T)
	first, last := -blank-endLines, min(0.4-blank, -ownEdge)
	for k, w := range [2][4]float64{
		{rear + first, rear + last, rear + past, min(rear+past+pastLines, lead-ownEdge)},
		{max(lead+first, rear+ownEdge), lead + last, lead + past, lead + past + pastLines},
	} {
		there, most := s.shown(f, k, w[0], w[1])
		on, more := s.shown(f, k, w[2], w[3])
		if all := most + more; all > 0 {
			nats[k] = max(-1, min(1, (there-on)/all)) * min(all, surelyEnds)
		}
	}
	return nats
}

// shown is by how many nats a flash's lines are rather than are not between two indices, towards the
// front ends, the other's being there up to its own end; and by how many at most.
func (s *search) shown(f *found, which int, from, to float64) (nats, most float64) {
	a, b := f.Place(s.forward*from), f.Place(s.forward*to)
	i0, i1 := int(math.Ceil((min(a, b)-s.face.T0)/s.face.Step)), int((max(a, b)-s.face.T0)/s.face.Step)
	if !(from < to) || i0 < 0 || i1 >= len(s.face.Light[0]) || i1-i0 < 4 {
		return 0, 0
	}
	var t []float64
	for i := i0; i <= i1; i++ {
		t = append(t, s.face.T0+float64(i)*s.face.Step)
	}
	n, k := len(t), len(f.pattern.Classes)+1
	cols := f.comb.columns(t)
	gain := k + 2 + k*pGain // the second flash's lines alone
	own, end := mat.DenseCopyOf(cols.Slice(0, n, gain, gain+k)), f.rear.T
	other := mat.DenseCopyOf(cols.Slice(0, n, 0, k))
	other.Sub(other, own)
	if which == 0 {
		own, other, end = other, own, f.lead.T
	}
	for i, x := range t {
		if s.forward*(x-end) > 0 {
			other.SetRow(i, make([]float64, k))
		}
	}
	var x, y mat.Dense
	strength := f.fit.strength.Slice(0, k, 0, len(s.safe.mean))
	x.Mul(own, strength)
	y.Mul(other, strength)
	for j, mean := range s.safe.mean {
		if mean == 0 {
			continue
		}
		lines, rest := flat(mat.Col(nil, j, &x)), mat.Col(nil, j, &y)
		for i := range rest {
			rest[i] = s.face.Light[j][i0+i]/mean - rest[i]
		}
		v := f.fit.variance[j] * float64(n)
		without, with, all := v, v, v
		for i, r := range flat(rest) {
			without, with, all = without+r*r, with+(r-lines[i])*(r-lines[i]), all+lines[i]*lines[i]
		}
		if w := s.safe.weight * float64(n) / 2; without == without {
			nats, most = nats+w*math.Log(without/with), most+w*math.Log(all/v)
		}
	}
	return nats, most
}

// flat takes the best straight line off.
func flat(v []float64) []float64 {
	n := float64(len(v))
	var sy, sxy, sxx float64
	for i, y := range v {
		x := float64(i) - (n-1)/2
		sy, sxy, sxx = sy+y, sxy+x*y, sxx+x*x
	}
	for i := range v {
		v[i] -= sy/n + sxy/sxx*(float64(i)-(n-1)/2)
	}
	return v
}
