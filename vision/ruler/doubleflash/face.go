package doubleflash

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Face is the part of the picture about a row of marks, laid out flat: bands side by side, each
// following the marks' lean, so that a mark stands at the same place in all of them.
type Face struct {
	T0, Step float64     // px along the row's axis: sample i lies at T0 + i Step
	Light    [][]float64 // of each band, proportional to light; NaN outside the picture
}

// part is a face between two places along the axis.
type part struct {
	t      []float64
	light  *mat.Dense // a column a band, relative to the band's mean about each place; 0 if unseen
	mean   []float64  // of each band's light; 0 where it is not wholly in the picture
	weight float64    // how many independent samples one counts for
	none   float64    // cost, as of a comb, where no lines are laid along it
}

// part cuts the face at two places along the axis and takes each band's light relative to its mean
// over reach px about it, so that light fall-off drops out.
func (f Face) part(lo, hi, reach float64) (p part, ok bool) {
	i0, i1 := max(0, int(math.Ceil((lo-f.T0)/f.Step))), int((hi-f.T0)/f.Step)
	for _, b := range f.Light {
		i1 = min(len(b)-1, i1)
	}
	if len(f.Light) == 0 || i1-i0 < shortest {
		return p, false
	}
	for i := i0; i <= i1; i++ {
		p.t = append(p.t, f.T0+float64(i)*f.Step)
	}
	p.light, p.mean, p.weight = mat.NewDense(len(p.t), len(f.Light), nil), make([]float64, len(f.Light)), f.Step/correlated
	seen := 0
	for j, b := range f.Light {
		if v, mean := relative(b[i0:i1+1], max(1, min(len(b), int(reach/2/f.Step)))); v != nil {
			p.light.SetCol(j, v)
			p.mean[j] = mean
			p.none += p.weight * float64(len(v)) / 2 * math.Log(meanSquare(v))
			seen++
		}
	}
	return p, seen >= fewestBands
}

// relative is v over its mean within half samples to either side, less one; nil where some of it is
// not seen. mean is that of all.
func relative(v []float64, half int) (out []float64, mean float64) {
	sum := make([]float64, len(v)+1)
	for i, x := range v {
		sum[i+1] = sum[i] + x
	}
	out = make([]float64, len(v))
	for i, x := range v {
		a, b := max(0, i-half), min(len(v), i+half+1)
		mean := (sum[b] - sum[a]) / float64(b-a)
		if !(mean > darkest) {
			return nil, 0
		}
		out[i] = x/mean - 1
	}
	return out, sum[len(v)] / float64(len(v))
}

// meanSquare is never quite nil.
func meanSquare(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x * x
	}
	return sum/float64(len(v)) + 1e-12
}
