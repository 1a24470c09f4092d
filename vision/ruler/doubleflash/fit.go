package doubleflash

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"leadmark/vision/ruler"
	"leadmark/vision/ruler/scale"
)

// fitted is a comb laid along a part of a face, its lines as strong in each band and class as fits best.
type fitted struct {
	comb
	cost     float64       // log-likelihood, taken off: n/2 log of the residual variance over all bands; and the priors'
	normal   *mat.SymDense // equations of a step
	gradient *mat.VecDense

	part
	columns  *mat.Dense
	strength mat.Dense // of each class, and of what light changes evenly, in each band
	makeUp   mat.Dense // for each column: what of those makes up for it best
	residual mat.Dense
	right    mat.Dense // products of the columns with the residual
	variance []float64 // of each band's residual; 0 if unseen
}

// fit refines a comb by the method of Levenberg and Marquardt.
func (c comb) fit(p part) (*fitted, bool) {
	best, ok := c.lay(p)
	for damping := leastDamping; ok && damping < mostDamping; {
		next, possible := best.step(damping).lay(p)
		switch {
		case !possible || !(next.cost < best.cost):
			damping *= 10
		case best.cost-next.cost < settled:
			return next, true
		default:
			best, damping = next, damping/10
		}
	}
	return best, ok
}

// step is the comb after one damped step.
func (f *fitted) step(damping float64) comb {
	n := mat.NewSymDense(parameters, nil)
	n.CopySym(f.normal)
	for k := range parameters {
		n.SetSym(k, k, n.At(k, k)*(1+damping))
	}
	var d mat.VecDense
	var c mat.Cholesky
	if !c.Factorize(n) {
		return comb{}
	}
	_ = c.SolveVecTo(&d, f.gradient) // where badly conditioned, the next is damped more
	return f.plus(d.RawVector().Data)
}

// lay lays the comb along a part. What strengths of any size can make up for is taken off what the
// parameters change (variable projection: Kaufman, BIT 15 (1975) 49).
func (c comb) lay(p part) (*fitted, bool) {
	if !c.possible() {
		return nil, false
	}
	f := &fitted{comb: c, part: p, columns: c.columns(p.t), normal: mat.NewSymDense(parameters, nil),
		gradient: mat.NewVecDense(parameters, nil)}
	n, all := f.columns.Dims()
	h := len(c.pattern.Classes) + 1 + 2
	var square, left, projected mat.Dense // products of the columns with each other
	square.Mul(f.columns.T(), f.columns)
	m := mat.NewSymDense(h, nil)
	for a := range h {
		for b := a; b < h; b++ {
			m.SetSym(a, b, square.At(a, b))
		}
		m.SetSym(a, a, m.At(a, a)+1e-9*float64(n))
	}
	f.right.Mul(f.columns.T(), p.light)
	var chol mat.Cholesky
	if !chol.Factorize(m) || chol.SolveTo(&f.strength, f.right.Slice(0, h, 0, len(p.mean))) != nil ||
		chol.SolveTo(&f.makeUp, square.Slice(0, h, 0, all)) != nil {
		return nil, false
	}
	left.Mul(square.Slice(0, all, 0, h), &f.strength)
	f.right.Sub(&f.right, &left)
	projected.Mul(square.Slice(0, all, 0, h), &f.makeUp)
	projected.Sub(&square, &projected)
	f.residual.Mul(f.columns.Slice(0, n, 0, h), &f.strength)
	f.residual.Sub(p.light, &f.residual)
	f.variance = make([]float64, len(p.mean))
	for j, mean := range p.mean {
		if mean > 0 {
			f.add(j, &projected)
		}
	}
	f.priors()
	return f, true
}

// add adds a band to the equations of a step.
func (f *fitted) add(j int, projected *mat.Dense) {
	v := meanSquare(mat.Col(nil, j, &f.residual))
	f.variance[j] = v
	f.cost += f.weight * float64(len(f.t)) / 2 * math.Log(v)
	by := f.changes(j)
	var half, square, right mat.Dense
	half.Mul(projected, by)
	square.Mul(by.T(), &half)
	right.Mul(by.T(), f.right.Slice(0, f.right.RawMatrix().Rows, j, j+1))
	for a := range parameters {
		for b := a; b < parameters; b++ {
			f.normal.SetSym(a, b, f.normal.At(a, b)+f.weight/v*square.At(a, b))
		}
		f.gradient.SetVec(a, f.gradient.AtVec(a)+f.weight/v*right.At(a, 0))
	}
}

// changes says of which columns what each parameter changes in band j is made up.
func (f *fitted) changes(j int) *mat.Dense {
	_, all := f.columns.Dims()
	k := len(f.pattern.Classes) + 1
	out := mat.NewDense(all, parameters, nil)
	for p := range parameters {
		for c := range k {
			out.Set(k+2+k*p+c, p, f.strength.At(c, j))
		}
	}
	return out
}

// plain leaves out of a part the bands of which lines make up less than others: numerals, which come again
// with the lines, draw them aside.
func (f *fitted) plain(p part) {
	share, most := make([]float64, len(f.variance)), 0.0
	for j, v := range f.variance {
		if v > 0 {
			share[j] = 1 - v/meanSquare(mat.Col(nil, j, f.light))
			most = max(most, share[j])
		}
	}
	for j, x := range share {
		if x < plainShare*most {
			p.mean[j] = 0
		}
	}
}

// priors adds what is known beforehand.
func (f *fitted) priors() {
	for k, x := range [parameters]struct{ off, sd float64 }{
		pA: {0, 1e3}, pB: {0, 1e3}, pC: {f.C, scale.Foreshortening}, pMoved: {0, 1}, pGain: {0, 1},
		pWidth: {f.width - math.Log(usualWidth), widthSD}, pBlur: {f.blur - math.Log(usualBlur), blurSD},
		pSkew: {f.skew, skewSD},
	} {
		w := 1 / (x.sd * x.sd)
		f.cost += x.off * x.off * w / 2
		f.gradient.SetVec(k, f.gradient.AtVec(k)-x.off*w)
		f.normal.SetSym(k, k, f.normal.At(k, k)+w)
	}
}

// covariance is that of the parameters, by what each graduation adds to the gradient, so that
// samples within one and bands side by side may be correlated (Liang and Zeger, Biometrika 73 (1986) 13).
func (f *fitted) covariance() (*mat.SymDense, bool) {
	by := map[int]*mat.VecDense{}
	h := len(f.pattern.Classes) + 1 + 2
	for j, v := range f.variance {
		if v == 0 {
			continue
		}
		made := f.changes(j)
		var up, d mat.Dense
		up.Mul(&f.makeUp, made)
		top := made.Slice(0, h, 0, parameters).(*mat.Dense)
		top.Sub(top, &up)
		d.Mul(f.columns, made)
		for i, t := range f.t {
			n := int(math.Round(f.Index(t)))
			if by[n] == nil {
				by[n] = mat.NewVecDense(parameters, nil)
			}
			by[n].AddScaledVec(by[n], f.weight*f.residual.At(i, j)/v, d.RowView(i))
		}
	}
	var inverse, half, all mat.Dense
	if inverse.Inverse(f.normal) != nil || len(by) <= parameters {
		return nil, false
	}
	square := mat.NewSymDense(parameters, nil)
	for _, g := range by {
		square.SymRankOne(square, float64(len(by))/float64(len(by)-parameters), g)
	}
	half.Mul(&inverse, square)
	all.Mul(&half, &inverse)
	out := mat.NewSymDense(parameters, nil)
	for a := range parameters {
		for b := a; b < parameters; b++ {
			out.SetSym(a, b, all.At(a, b))
		}
	}
	return out, true
}

// lines places each of the first flash's lines by what the comb leaves about it.
func (f *fitted) lines() (out []ruler.Mark) {
	top, bottom := map[int]float64{}, map[int]float64{}
	for i, t := range f.t {
		u, by := f.IndexSlopes(t)
		n := int(math.Round(u))
		// a line moves with A as the scale does
		slope := f.line(u-float64(n)).slope * by[0]
		for j, v := range f.variance {
			if v > 0 {
				d := slope * f.strength.At(f.pattern.Class(n), j)
				top[n] += d * f.residual.At(i, j) / v
				bottom[n] += d * d / v
			}
		}
	}
	for n, b := range bottom {
		if b > 0 {
			at := f.Place(float64(n)) + top[n]/b/(1+f.C*(float64(n)-f.Mid)/f.Half)
			out = append(out, ruler.Mark{T: at, U: 1 / math.Sqrt(f.weight*b), Index: n, Strength: 1})
		}
	}
	slices.SortFunc(out, func(a, b ruler.Mark) int { return cmp.Compare(a.T, b.T) })
	return out
}
