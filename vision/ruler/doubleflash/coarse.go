package doubleflash

import (
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/mat"

	"leadmark/vision/ruler"
	"leadmark/vision/ruler/scale"
)

// straighten fits a row's scale anew to the phase of its lines, window by window: marks followed one by
// one may have gone over from one of two combs to the other, the phase of both together stays.
func (p part) straighten(l scale.ByIndex) scale.ByIndex {
	a, b := l.Index(p.t[0]), l.Index(p.t[len(p.t)-1])
	mid := len(p.mean) / 2
	var marks []ruler.Mark
	phase := 0.0
	for c := min(a, b) + phaseWindow/2; c <= max(a, b)-phaseWindow/2; c += phaseWindow / 4 {
		var z complex128
		for i, t := range p.t {
			u := l.Index(t)
			if d := (u - c) / phaseWindow; math.Abs(d) < 0.5 {
				light := p.light.At(i, max(0, mid-1)) + p.light.At(i, mid) + p.light.At(i, min(mid+1, len(p.mean)-1))
				z += complex(light*(1+math.Cos(2*math.Pi*d)), 0) * cmplx.Exp(complex(0, -2*math.Pi*u))
			}
		}
		turn := cmplx.Phase(z) / (2 * math.Pi)
		phase = turn + math.Round(phase-turn)
		if n := math.Round(c + phase); len(marks) == 0 || int(n) > marks[len(marks)-1].Index {
			marks = append(marks, ruler.Mark{Index: int(n), T: l.Place(n - phase)})
		}
	}
	if better, ok := scale.Fit(marks); ok {
		return better
	}
	return l
}

// folded is a part laid over itself, period upon period of a comb, in steps of 1/coarseParts
// graduation. Where the comb's line 0 is laid at a place of it, response is the products of the light of
// each band and the lines of each class.
type folded struct {
	part
	response [][][]float64 // of each band, class and place
	lines    [][][]float64 // products of the lines of two classes so far apart
	power    []float64     // of each band; 0 if unseen
}

// fold folds a part for a comb.
func (c comb) fold(p part) folded {
	f := folded{part: p, power: make([]float64, len(p.mean)), response: make([][][]float64, len(p.mean))}
	tables := c.tables()
	places := len(tables[0])
	for j, mean := range p.mean {
		light := make([]float64, places)
		for i, t := range p.t {
			v := p.light.At(i, j)
			light[around(int(math.Round(c.Index(t)*coarseParts)), places)] += v
			f.power[j] += v * v
		}
		if mean > 0 {
			f.response[j] = correlate(tables, light)
		}
	}
	for _, t := range tables {
		f.lines = append(f.lines, correlate(tables, t))
	}
	return f
}

// tables are the lines of each class over a period, less their mean.
func (c comb) tables() (out [][]float64) {
	places := c.pattern.Classes[0].Period * coarseParts
	for class := range len(c.pattern.Classes) + 1 {
		v := make([]float64, places)
		mean := 0.0
		for i := range v {
			x := float64(i) / coarseParts
			for n := math.Floor(x) - 1; n <= x+2; n++ {
				if c.pattern.Class(int(n)) == class {
					v[i] += c.line(x - n).height
				}
			}
			mean += v[i] / float64(places)
		}
		for i := range v {
			v[i] -= mean
		}
		out = append(out, v)
	}
	return out
}

func around(i, n int) int { return (i%n + n) % n }

// correlate is the products of v with each table laid at each place.
func correlate(tables [][]float64, v []float64) (out [][]float64) {
	for _, t := range tables {
		sums := make([]float64, len(v))
		for s := range sums {
			for i, x := range v {
				sums[s] += x * t[around(i-s, len(v))]
			}
		}
		out = append(out, sums)
	}
	return out
}

// costs are those of a comb at each place, against no lines, the second flash's d places on.
func (f folded) costs(d int, gain float64) []float64 {
	k, places := len(f.lines), len(f.lines[0][0])
	gram := mat.NewSymDense(k, nil)
	for a := range k {
		for b := a; b < k; b++ {
			l := f.lines[a][b]
			both := (1+gain*gain)*l[0] + gain*(l[around(d, places)]+l[around(-d, places)])
			gram.SetSym(a, b, both*float64(len(f.t))/float64(places))
		}
		gram.SetSym(a, a, gram.At(a, a)*(1+1e-6))
	}
	var chol mat.Cholesky
	var inverse mat.SymDense
	if !chol.Factorize(gram) || chol.InverseTo(&inverse) != nil {
		return nil
	}
	out, v := make([]float64, places), make([]float64, k)
	for x := range out {
		left := 1.0
		for j, r := range f.response {
			explained := 0.0
			for a := range r {
				v[a] = r[a][x] + gain*r[a][around(x+d, places)]
				explained += inverse.At(a, a) * v[a] * v[a]
				for b := range a {
					explained += 2 * inverse.At(a, b) * v[a] * v[b]
				}
			}
			left *= max(1-explained/(f.power[j]+1e-12), leastLeft)
		}
		out[x] = f.weight * float64(len(f.t)) / 2 * math.Log(left)
	}
	return out
}
