package mixed

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"

	"leadmark/testdata"
)

// invented is a model of 12 values in 3 blocks, one value in none and one left out; its second
// unknown is known beforehand.
func invented() *Model {
	rng := rand.New(rand.NewPCG(3, 5))
	n := 12
	m := &Model{P: 2, Theta: []float64{0.3, -0.1}, Prior: []float64{0, 4}, Blocks: 3}
	for i := range n {
		slope := 1 + rng.Float64()
		m.X = append(m.X, slope, 1)
		m.R, m.Stated = append(m.R, rng.NormFloat64()), append(m.Stated, 0.2+rng.Float64())
		m.Slope2, m.Z = append(m.Slope2, slope*slope), append(m.Z, rng.Float64())
		m.Block, m.Weight = append(m.Block, i%3), append(m.Weight, 1)
	}
	m.Block[4], m.Z[4], m.Weight[7], m.Weight[2] = -1, 0, 0, 0.5
	m.Complete()
	return m
}

// dense is V^-1 and P = V^-1 - V^-1 X C X'V^-1 of the values counted, written out.
func dense(m *Model, y float64) (kept []int, inv, x, c, p *mat.Dense) {
	d := m.Diagonal(y)
	for i := range d {
		if m.Weight[i] > 0 {
			kept = append(kept, i)
		}
	}
	n := len(kept)
	v := mat.NewDense(n, n, nil)
	x = mat.NewDense(n, m.P, nil)
	for a, i := range kept {
		x.SetRow(a, m.X[i*m.P:(i+1)*m.P])
		for b, j := range kept {
			if m.Block[i] >= 0 && m.Block[i] == m.Block[j] {
				v.Set(a, b, m.Z[i]*m.Z[j])
			}
		}
		v.Set(a, a, v.At(a, a)+d[i])
	}
	inv, c, p = new(mat.Dense), new(mat.Dense), new(mat.Dense)
	must(inv.Inverse(v))
	var info, vx, part mat.Dense
	vx.Mul(inv, x)
	info.Mul(x.T(), &vx)
	for j, q := range m.Prior {
		info.Set(j, j, info.At(j, j)+q)
	}
	must(c.Inverse(&info))
	part.Product(&vx, c, vx.T())
	p.Sub(inv, &part)
	return kept, inv, x, c, p
}

func must(err error) {
	if err != nil {
		panic(err)
	}
}

// Covariance, step, gain and precision agree with the matrices written out, on both sides of nil.
func TestPointIsThatOfDenseMatrices(t *testing.T) {
	m := invented()
	for _, y := range []float64{-1, 0, 0.8} {
		pt := m.At(y)
		kept, inv, x, c, p := dense(m, y)
		var gain mat.Dense
		gain.Product(c, x.T(), inv)
		precision, k := m.Precision(pt), m.Gain(pt)
		step := make([]float64, m.P)
		for j := range step {
			step[j] = -c.At(j, 1) * m.Prior[1] * m.Theta[1]
			for a, i := range kept {
				step[j] += gain.At(j, a) * m.R[i]
				testdata.Within(t, "gain", k[i*m.P+j], gain.At(j, a), 1e-12)
			}
			testdata.Within(t, "step", pt.Step[j], step[j], 1e-12)
			for l := range step {
				testdata.Within(t, "covariance", pt.Cov[j*m.P+l], c.At(j, l), 1e-12)
			}
		}
		for a, i := range kept {
			testdata.Within(t, "precision", precision[i], p.At(a, a), 1e-12)
		}
		if precision[7] != 0 {
			t.Errorf("a value left out has the precision %g", precision[7])
		}
	}
}

// Score, derivative of the covariance and what estimating the variance adds are those of finite
// differences and of Kenward and Roger's formula 2 C (X'V^-1 G P G V^-1 X) C written out.
func TestDerivativesAlongThePath(t *testing.T) {
	m := invented()
	for _, y := range []float64{-1, 0.8} {
		const h = 1e-5
		pt, before, after := m.At(y), m.At(y-h), m.At(y+h)
		testdata.Within(t, "score", pt.score, (after.loglik-before.loglik)/(2*h), 1e-6)
		for j := range pt.Cov {
			testdata.Within(t, "covariance's", pt.DCov[j], (after.Cov[j]-before.Cov[j])/(2*h), 1e-6)
		}
		kept, inv, x, c, p := dense(m, y)
		g := mat.NewDense(len(kept), len(kept), nil)
		for a, i := range kept {
			g.Set(a, a, m.gradient(y)[i])
		}
		var middle, adjust, pg, info mat.Dense
		middle.Product(x.T(), inv, g, p, g, inv, x)
		adjust.Product(c, &middle, c)
		for j := range pt.Adjust {
			testdata.Within(t, "addition", pt.Adjust[j], 2*adjust.At(j/m.P, j%m.P), 1e-12)
		}
		pg.Mul(p, g)
		info.Mul(&pg, &pg)
		testdata.Within(t, "information", pt.Info, info.Trace()/2, 1e-10)
	}
}

// Redrawn residuals have the spread that the fit expects: V^-1 (residual) has the variance P_ii.
func TestRedrawHasTheModelsSpread(t *testing.T) {
	m := invented()
	pt := m.At(0.8)
	redraw, rng := m.Redraw(pt), rand.New(rand.NewPCG(1, 9))
	const draws = 4000
	square := make([]float64, len(m.R))
	for range draws {
		for i, w := range redraw.Next(rng) {
			square[i] += w * w / draws
		}
	}
	for i, p := range m.Precision(pt) {
		if !(math.Abs(square[i]-p) <= 5*p*math.Sqrt(2.0/draws)) { // five standard errors of a variance
			t.Errorf("value %d: %g, expected %g", i, square[i], p)
		}
	}
}
