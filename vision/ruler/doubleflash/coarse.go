package doubleflash

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

const (
	coarseParts = 8   // places tried per graduation
	coarseBlur  = 0.1 // of the lines, in graduations, where they are tried
	tableParts  = 64  // of a comb's table, per graduation
)

// start is where the search for two superposed combs of lines begins: line 0 of the first
// stands at u = x, that of the second d further on.
type start struct {
	x, d float64
	gain float64 // light of the second flash over that of the first
	cost float64 // n/2 log of the residual variance, summed over the bands
}

// coarse tries every place of a pattern and every displacement within its longest period, for
// two flashes of equal light and for one of half the light. Which of the combs is the first
// flash's is left open.
func (f flatFace) coarse(u []float64, combs []comb) start {
	tables := tablesOf(combs)
	places := combs[0].Period * coarseParts
	best := start{cost: math.Inf(1), gain: 1}
	r, gram, power, n := f.responses(u, tables, combs[0].Period), gramOf(tables, combs[0].Period), f.power(),
		float64(len(f.t))
	for d := range places {
		for _, gain := range []float64{1, 0.5} {
			inv, ok := gram.inverse(d, gain, n)
			if !ok || gain == 1 && d > places/2 {
				continue
			}
			for x := range places {
				if c := r.cost(power, inv, x, d, gain, n); c < best.cost {
					best = start{float64(x) / coarseParts, float64(d) / coarseParts, gain, c}
				}
			}
		}
	}
	return best
}

// tablesOf tabulates each comb over the longest period, its mean taken off.
func tablesOf(combs []comb) [][]float64 {
	out := make([][]float64, len(combs))
	for k, c := range combs {
		v := make([]float64, combs[0].Period*tableParts)
		mean := 0.0
		for i := range v {
			v[i] = c.at(float64(i)/tableParts, lineShape{usualLine, coarseBlur})
			mean += v[i] / float64(len(v))
		}
		for i := range v {
			v[i] -= mean
		}
		out[k] = v
	}
	return out
}

func (f flatFace) power() []float64 {
	out := make([]float64, len(f.band))
	for j, b := range f.band {
		for _, v := range b {
			out[j] += v * v
		}
	}
	return out
}

// responses are the products of each band with each comb at every place: [band][comb][place].
type responses [][][]float64

func (f flatFace) responses(u []float64, tables [][]float64, period int) responses {
	places := period * coarseParts
	size := period * tableParts
	at := make([]int, len(u))
	for i, x := range u {
		at[i] = ((int(math.Round(x*tableParts)) % size) + size) % size
	}
	out := make(responses, len(f.band))
	for j, band := range f.band {
		out[j] = make([][]float64, len(tables))
		for k, table := range tables {
			out[j][k] = make([]float64, places)
			for s := range places {
				shift := size - s*(tableParts/coarseParts)
				sum := 0.0
				for i, v := range band {
					m := at[i] + shift
					if m >= size {
						m -= size
					}
					sum += v * table[m]
				}
				out[j][k][s] = sum
			}
		}
	}
	return out
}

// cost is that of two combs at places x and x + d.
func (r responses) cost(power []float64, inv *mat.SymDense, x, d int, gain, n float64) float64 {
	total := 0.0
	var v [8]float64
	for j, band := range r {
		for k, at := range band {
			v[k] = at[x] + gain*at[((x+d)%len(at)+len(at))%len(at)]
		}
		explained := 0.0
		for a := range band {
			for b := range band {
				explained += v[a] * inv.At(a, b) * v[b]
			}
		}
		left := max(power[j]-explained, 1e-3*power[j]) + 1e-12
		total += n / 2 * math.Log(left/n)
	}
	return total
}

// gram holds the mean products of two combs at each distance: [comb][comb][place].
type gram [][][]float64

func gramOf(tables [][]float64, period int) gram {
	places, size := period*coarseParts, period*tableParts
	g := make(gram, len(tables))
	for a := range tables {
		g[a] = make([][]float64, len(tables))
		for b := range tables {
			g[a][b] = make([]float64, places)
			for s := range places {
				shift := size - s*(tableParts/coarseParts)
				for i, v := range tables[a] {
					g[a][b][s] += v * tables[b][(i+shift)%size] / float64(size)
				}
			}
		}
	}
	return g
}

// inverse is that of the normal equations of n samples for a displacement and gain.
func (g gram) inverse(d int, gain, n float64) (*mat.SymDense, bool) {
	m := mat.NewSymDense(len(g), nil)
	for a := range g {
		for b := a; b < len(g); b++ {
			p := len(g[a][b])
			at := func(s int) float64 { return g[a][b][(s%p+p)%p] }
			m.SetSym(a, b, n*((1+gain*gain)*at(0)+gain*(at(d)+at(-d))))
		}
		m.SetSym(a, a, m.At(a, a)*(1+1e-6))
	}
	var c mat.Cholesky
	if !c.Factorize(m) {
		return nil, false
	}
	inv := mat.NewSymDense(len(g), nil)
	return inv, c.InverseTo(inv) == nil
}
