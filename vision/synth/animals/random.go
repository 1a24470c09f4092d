package animals

import (
	"math"
	"math/rand/v2"
)

// Set is what the frames of one shoot have in common: backdrop, light, exit and perch.
func Set(seed uint64, width, height int) Scene {
	r := rand.New(rand.NewPCG(seed, 1))
	return Scene{Width: width, Height: height, Ground: Ground(r.IntN(4)), Uneven: 0.5 * r.Float64(),
		Shadow: 0.35 * r.Float64(), Spill: 0.3 * r.Float64(),
		FullWell: 8000 + 30000*r.Float64(), Gain: 1, Exit: r.IntN(2) == 0, Perch: r.IntN(2) == 0}
}

// Random is a frame of a set with n animals on the way to the right, the first about in the middle
// or, where cut, over an edge. Every frame's flash is a little different.
func Random(set Scene, seed uint64, n int, cut bool) Scene {
	r := rand.New(rand.NewPCG(seed, 2))
	s := set
	s.Seed, s.Gain = seed, 1+0.05*r.NormFloat64()
	w, h := float64(s.Width), float64(s.Height)
	kind := Kind(r.IntN(3))
	for i := range n {
		a := Animal{Kind: kind, Length: w * (0.14 + 0.1*r.Float64()), Heading: 0.3 * r.NormFloat64(), Seed: r.Uint32()}
		a.Way = a.Heading
		a.Defocus = 0.5 + 0.8*r.Float64()
		if r.IntN(4) == 0 {
			a.Defocus = 2 + 3*r.Float64()
		}
		if r.IntN(2) == 0 {
			a.Tail = (1 + 9*r.Float64()) / math.Ln10
		}
		a.Nose = [2]float64{w * (0.45 + 0.3*r.Float64()), h * (0.4 + 0.15*r.Float64())}
		if cut {
			a.Nose[0] = w + a.Length*(0.1+0.6*r.Float64())
		}
		if i > 0 { // above or below the first, apart from it
			a.Nose[0], a.Nose[1] = s.Animals[0].Nose[0]-0.3*w*r.Float64(), s.Animals[0].Nose[1]-1.1*s.Animals[0].Length
			a.Length *= 0.8
		}
		s.Animals = append(s.Animals, a)
	}
	return s
}
