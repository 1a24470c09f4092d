package onelag

import (
	"math"
	"math/rand/v2"

	"leadmark/fit/note"
)

const (
	twoSeed  = 20272
	twoDraws = 199 // at most
	twoStop  = 10  // draws as extreme after which no more are needed (Besag and Clifford, Biometrika 78 (1991) 301)
	twoFew   = 8   // shots from which two populations can be told from one
	twoMany  = 400 // shots looked at: more add time, not insight
	oddAgree = 3   // odd shots from which it is asked whether they agree with one another
)

// twoLagsCheck asks whether the shots come from two populations, as with a shutter that sometimes
// misses a step: a likelihood ratio of two normal laws with one standard deviation against one
// (McLachlan, Appl. Stat. 36 (1987) 318), its distribution drawn from the fitted model. Shots that
// were set aside as odd take part by themselves: three or more that agree on one lag are no
// accident.
func (s Run) twoLagsCheck() Check {
	z, a := s.standardised(s.Best.WRes)
	if len(z) < twoFew || s.Spare() < 4 {
		return untested(note.Of("two-lags", "few", twoFew))
	}
	fit := mixture(z, a)
	c := Check{Name: "two-lags", Tested: true, Statistic: fit.ratio, P: s.mixtureChance(fit.ratio), Effect: fit.apart}
	share := fit.share
	if p, apart, among := s.oddAgreement(); among > 0 {
		if p < c.P {
			c.Effect, share = apart, among
		}
		c.P = math.Min(1, 2*math.Min(p, c.P))
	}
	c.Note = note.New("two-lags", share, c.Effect)
	return c
}

// standardised gives the residuals in their own standard deviations, shared height errors taken out
// (D V^-1 r), and slope over standard deviation, for the shots counted, thinned to twoMany.
func (s Run) standardised(wres []float64) (z, a []float64) {
	d := s.Diagonal(s.Best.Y)
	every := 1 + (s.N-1)/twoMany
	k := 0
	for i, v := range d {
		if v == 0 {
			continue
		}
		if k%every == 0 {
			z, a = append(z, math.Sqrt(v)*wres[i]), append(a, s.X[i*s.P+s.Lag]/math.Sqrt(v))
		}
		k++
	}
	return z, a
}

// mixtureChance draws residuals of the fitted model with one lag and counts ratios as large.
func (s Run) mixtureChance(ratio float64) float64 {
	rng := rand.New(rand.NewPCG(twoSeed, uint64(s.N)))
	redraw, above := s.Redraw(s.Best), 0
	for draw := 1; draw <= twoDraws; draw++ {
		if mixture(s.standardised(redraw.Next(rng))).ratio >= ratio {
			if above++; above == twoStop {
				return float64(above) / float64(draw)
			}
		}
	}
	return float64(above+1) / float64(twoDraws+1)
}

// oddAgreement asks whether the shots set aside agree on one lag of their own: the chance that as
// many offsets, drawn evenly over the span theirs cover from the good shots, lie as close together.
// among is their share of the run, 0 when too few.
func (s Run) oddAgreement() (chance, apart, among float64) {
	var off, sd []float64
	far := 0.0
	for i, odd := range s.Odd {
		slope := s.X[i*s.P+s.Lag]
		if !odd || s.Wrong[i] || slope == 0 {
			continue
		}
		off = append(off, s.Residual(i)/slope)
		sd = append(sd, math.Sqrt(s.Best.Shrink*s.Stated[i]/s.Slope2[i]+s.Best.T))
		far = math.Max(far, math.Abs(off[len(off)-1]))
	}
	k := len(off)
	if k < oddAgree {
		return 1, 0, 0
	}
	scatter, mean := weightedScatter(off, sd)
	rng := rand.New(rand.NewPCG(twoSeed, uint64(k)))
	span, draw, below := far*(1+1/float64(k)), make([]float64, k), 0
	for n := 0; n < twoDraws; n++ {
		for i := range draw {
			draw[i] = span * (2*rng.Float64() - 1)
		}
		if v, _ := weightedScatter(draw, sd); v <= scatter {
			below++
		}
	}
	return float64(below+1) / float64(twoDraws+1), mean, float64(k) / float64(len(s.Odd))
}

// weightedScatter is the weighted sum of squares about the weighted mean.
func weightedScatter(x, sd []float64) (ss, mean float64) {
	sum := 0.0
	for i, v := range x {
		w := 1 / sq(sd[i])
		sum, mean = sum+w, mean+w*v
	}
	mean /= sum
	for i, v := range x {
		ss += sq((v - mean) / sd[i])
	}
	return ss, mean
}
