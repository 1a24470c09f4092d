package tiles

import (
	"math"
	"math/bits"
)

// fft transforms tiles of one fixed size. A library's transform of any length spends most of its
// time on finding its way through its tables; this one is several times as fast, and the search for
// rulers is all transforms.
type fft struct {
	order    [Side]uint8       // places in bit-reversed order
	cos, sin [Side / 2]float32 // of 2 pi k / Side
}

func newFFT() *fft {
	f := &fft{}
	for i := range f.order {
		f.order[i] = bits.Reverse8(uint8(i)) >> 3 // five bits
	}
	for k := range f.cos {
		s, c := math.Sincos(2 * math.Pi * float64(k) / Side)
		f.cos[k], f.sin[k] = float32(c), float32(s)
	}
	return f
}

// line is one row or column of complex numbers.
type line struct{ re, im [Side]float32 }

// transform replaces a line, given in bit-reversed order, by its discrete Fourier transform (Cooley
// and Tukey 1965, decimation in time): two steps without multiplications, then three with.
func (f *fft) transform(x *line) {
	for i := 0; i < Side; i += 4 {
		re, im := (*[4]float32)(x.re[i:]), (*[4]float32)(x.im[i:])
		a, b := re[0]+re[1], re[0]-re[1]
		c, d := re[2]+re[3], re[2]-re[3]
		p, q := im[0]+im[1], im[0]-im[1]
		r, s := im[2]+im[3], im[2]-im[3]
		re[0], re[2], re[1], re[3] = a+c, a-c, b+s, b-s
		im[0], im[2], im[1], im[3] = p+r, p-r, q-d, q+d
	}
	for half := 4; half < Side; half *= 2 {
		step := Side / 2 / half
		for start := 0; start < Side; start += 2 * half {
			for k := range half {
				c, s := f.cos[k*step&(Side/2-1)], f.sin[k*step&(Side/2-1)]
				i := (start + k) & (Side - 1)
				j := (i + half) & (Side - 1)
				re := x.re[j]*c + x.im[j]*s
				im := x.im[j]*c - x.re[j]*s
				x.re[j], x.im[j] = x.re[i]-re, x.im[i]-im
				x.re[i], x.im[i] = x.re[i]+re, x.im[i]+im
			}
		}
	}
}

// power fills out with the power spectrum of a real tile: out[v][u] for the column frequencies u
// from 0 to Side/2. Two rows go through one transform, as its real and imaginary part.
func (f *fft) power(tile *[Side][Side]float32, out *[Side][Side/2 + 1]float32) {
	var cols [Side/2 + 1]line // column u, its rows in bit-reversed order
	var x line
	for j := 0; j < Side; j += 2 {
		for i, k := range f.order {
			x.re[i], x.im[i] = tile[j][k], tile[j+1][k]
		}
		f.transform(&x)
		a, b := f.order[j], f.order[j+1]
		for u := range cols {
			v := (Side - u) & (Side - 1)
			c := &cols[u]
			c.re[a], c.im[a] = (x.re[u]+x.re[v])/2, (x.im[u]-x.im[v])/2
			c.re[b], c.im[b] = (x.im[u]+x.im[v])/2, (x.re[v]-x.re[u])/2
		}
	}
	for u := range cols {
		c := &cols[u]
		f.transform(c)
		for j := range out {
			out[j][u] = c.re[j]*c.re[j] + c.im[j]*c.im[j]
		}
	}
}
