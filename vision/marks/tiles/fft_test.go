package tiles

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"
)

// The reference is gonum's Fourier transform, a library of its own.
func TestPowerSpectrumAgainstGonum(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 5))
	var tile [Side][Side]float32
	for j := range tile {
		for i := range tile[j] {
			tile[j][i] = float32(rnd.NormFloat64() * 30)
		}
	}
	var got [Side][Side/2 + 1]float32
	newFFT().power(&tile, &got)
	rows, cols := fourier.NewFFT(Side), fourier.NewCmplxFFT(Side)
	var spec [Side][]complex128
	for j := range tile {
		row := make([]float64, Side)
		for i, v := range tile[j] {
			row[i] = float64(v)
		}
		spec[j] = rows.Coefficients(nil, row)
	}
	for u := range got[0] {
		col := make([]complex128, Side)
		for j := range col {
			col[j] = spec[j][u]
		}
		cols.Coefficients(col, col)
		for j, c := range col {
			want := real(c)*real(c) + imag(c)*imag(c)
			if d := math.Abs(float64(got[j][u]) - want); d > 1e-4*want+1 { // float32, sums of a thousand terms of 30^2
				t.Errorf("row %d, column %d: %v, gonum has %v", j, u, got[j][u], want)
			}
		}
	}
}

func BenchmarkTile(b *testing.B) {
	var tile [Side][Side]float32
	var out [Side][Side/2 + 1]float32
	f := newFFT()
	for b.Loop() {
		f.power(&tile, &out)
	}
}
