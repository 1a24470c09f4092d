package doubleflash

import "math"

// Face is the part of the picture about a row of marks, laid out flat: bands side by side, each
// following the marks' lean, so that a mark stands at the same place in all of them.
type Face struct {
	T0, Step float64     // px along the row's axis: sample i lies at T0 + i Step
	Light    [][]float64 // of each band, proportional to light; NaN outside the picture
}

// t is the place of sample i along the axis.
func (f Face) t(i int) float64 { return f.T0 + float64(i)*f.Step }

// flat is a face between two places along the axis, each band's light taken relative to its
// mean over reach px about it, so that light fall-off drops out. Bands that leave the picture are
// left out.
func (f Face) flat(lo, hi, reach float64) flatFace {
	out := flatFace{}
	i0, i1 := max(0, int(math.Ceil((lo-f.T0)/f.Step))), 0
	for _, b := range f.Light {
		i1 = min(len(b)-1, int((hi-f.T0)/f.Step))
		if i1-i0 < 16 {
			return flatFace{}
		}
		if v, ok := relative(b[i0:i1+1], int(reach/2/f.Step)); ok {
			out.band = append(out.band, v)
		}
	}
	for i := i0; i <= i1; i++ {
		out.t = append(out.t, f.t(i))
	}
	return out
}

// flatFace is what is compared with combs of lines.
type flatFace struct {
	t    []float64
	band [][]float64
}

// relative is v over its mean within half samples to either side, less one.
func relative(v []float64, half int) ([]float64, bool) {
	sum := make([]float64, len(v)+1)
	for i, x := range v {
		if x != x {
			return nil, false
		}
		sum[i+1] = sum[i] + x
	}
	out := make([]float64, len(v))
	for i, x := range v {
		a, b := max(0, i-half), min(len(v), i+half+1)
		mean := (sum[b] - sum[a]) / float64(b-a)
		if mean <= 1e-5 {
			return nil, false
		}
		out[i] = x/mean - 1
	}
	return out, true
}
