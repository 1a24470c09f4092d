package doubleflash

import (
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/mat"
)

const (
	phaseWindow = 8.0 // graduations in which the phase of the lines is taken
	phaseBands  = 3   // about the axis
)

// straighten corrects an index scale by the phase of the lines along a face, window by window: marks
// followed one by one may have gone over from one of two superposed combs to the other, the phase of
// both together stays. It returns the correction as a polynomial of the index.
func (f flatFace) straighten(u []float64) (correct func(u float64) float64) {
	none := func(float64) float64 { return 0 }
	lo, hi := min(u[0], u[len(u)-1]), max(u[0], u[len(u)-1])
	var at, phase, weight []float64
	for c := lo + phaseWindow/2; c <= hi-phaseWindow/2; c += phaseWindow / 4 {
		z := f.phasor(u, c)
		p := cmplx.Phase(z) / (2 * math.Pi)
		if n := len(phase); n > 0 {
			p += math.Round(phase[n-1] - p)
		}
		at, phase, weight = append(at, c), append(phase, p), append(weight, cmplx.Abs(z))
	}
	degree := 2
	if len(at) < 6 {
		degree = 1
	}
	if len(at) < 3 {
		return none
	}
	mid, half := (lo+hi)/2, (hi-lo)/2
	a, y := mat.NewDense(len(at), degree+1, nil), mat.NewVecDense(len(at), nil)
	for i := range at {
		w := math.Sqrt(weight[i])
		for k := 0; k <= degree; k++ {
			a.Set(i, k, w*math.Pow((at[i]-mid)/half, float64(k)))
		}
		y.SetVec(i, w*phase[i])
	}
	var beta mat.VecDense
	if beta.SolveVec(a, y) != nil {
		return none
	}
	return func(u float64) float64 {
		sum := 0.0
		for k := 0; k <= degree; k++ {
			sum += beta.AtVec(k) * math.Pow((u-mid)/half, float64(k))
		}
		return sum
	}
}

// phasor is the lines' amplitude at one cycle a graduation, in a Hann window about c.
func (f flatFace) phasor(u []float64, c float64) complex128 {
	var sum complex128
	first := max(0, (len(f.band)-phaseBands)/2)
	for _, band := range f.band[first:min(len(f.band), first+phaseBands)] {
		for i, v := range band {
			if d := (u[i] - c) / phaseWindow; math.Abs(d) < 0.5 {
				w := 0.5 + 0.5*math.Cos(2*math.Pi*d)
				sum += complex(v*w, 0) * cmplx.Exp(complex(0, -2*math.Pi*u[i]))
			}
		}
	}
	return sum
}
