package fit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sort"
)

const (
	twoSeed   = 20272
	twoDraws  = 199 // at most
	twoStop   = 10  // draws as extreme after which no more are needed (Besag and Clifford, Biometrika 78 (1991) 301)
	twoFew    = 8   // shots from which two populations can be told from one
	twoMany   = 400 // shots looked at: more add time, not insight
	oddAgree  = 3   // odd shots from which it is asked whether they agree with one another
	emTurns   = 25
	emSettled = 1e-3
)

// twoLagsCheck asks whether the shots come from two populations, as with a shutter that sometimes
// misses a step: a likelihood ratio of two normal laws with one standard deviation against one
// (McLachlan, Appl. Stat. 36 (1987) 318), its distribution drawn from the fitted model. Shots that
// were set aside as odd take part by themselves: three or more that agree on one lag are no
// accident.
func (s *solution) twoLagsCheck() Check {
	const name = "two-lags"
	z, a := s.standardised(s.best.wres)
	if len(z) < twoFew || s.spare() < 4 {
		return untested(name, fmt.Sprintf("fewer than %d good shots", twoFew))
	}
	fit := mixture(z, a)
	c := Check{Name: name, Tested: true, Statistic: fit.ratio, P: s.mixtureChance(fit.ratio), Effect: fit.apart}
	share := fit.share
	if p, apart, among := s.oddAgreement(); among > 0 {
		if p < c.P {
			c.Effect, share = apart, among
		}
		c.P = math.Min(1, 2*math.Min(p, c.P))
	}
	c.Text = fmt.Sprintf("the shots fall into two groups: about %.0f %% lie %+.2g ms from the others, "+
		"as when a shutter or a controller sometimes misses a step; manual focus and exposure, mirror "+
		"up or live view, and an open shutter take such steps out; until then one lag does not describe "+
		"this rig", 100*share, 1e3*c.Effect)
	return c
}

// standardised gives the residuals in their own standard deviations, shared height errors taken out
// (D V^-1 r), and slope over standard deviation, for the shots counted, thinned to twoMany.
func (s *solution) standardised(wres []float64) (z, a []float64) {
	d := s.diagonal(s.best.y)
	every := 1 + (s.n-1)/twoMany
	k := 0
	for i, v := range d {
		if v == 0 {
			continue
		}
		if k%every == 0 {
			z, a = append(z, math.Sqrt(v)*wres[i]), append(a, s.x[i*s.p+colLag]/math.Sqrt(v))
		}
		k++
	}
	return z, a
}

// mixtureChance draws residuals of the fitted model with one lag and counts ratios as large.
func (s *solution) mixtureChance(ratio float64) float64 {
	rng := rand.New(rand.NewPCG(twoSeed, uint64(s.n)))
	d := s.diagonal(s.best.y)
	sums := s.blockSums(d)
	wx := s.solveV(d, sums, s.x, s.p)
	y, above := make([]float64, len(d)), 0
	for draw := 1; draw <= twoDraws; draw++ {
		s.drawReadings(y, d, rng)
		wres := s.solveV(d, sums, y, 1)
		rhs := make([]float64, s.p)
		for i, v := range y {
			for j := range rhs {
				rhs[j] += wx[i*s.p+j] * v
			}
		}
		step := times(s.best.cov, rhs, s.p)
		for i := range wres {
			for j, v := range step {
				wres[i] -= wx[i*s.p+j] * v
			}
		}
		if mixture(s.standardised(wres)).ratio >= ratio {
			if above++; above == twoStop {
				return float64(above) / float64(draw)
			}
		}
	}
	return float64(above+1) / float64(twoDraws+1)
}

// drawReadings draws from N(0, V), the common errors included.
func (s *solution) drawReadings(y, d []float64, rng *rand.Rand) {
	shared, common := make([]float64, s.blocks), make([]float64, s.p)
	for b := range shared {
		shared[b] = rng.NormFloat64()
	}
	for c, q := range s.prior {
		if q > 0 {
			common[c] = rng.NormFloat64() / math.Sqrt(q)
		}
	}
	for i := range y {
		if y[i] = 0; d[i] == 0 {
			continue
		}
		y[i] = math.Sqrt(d[i]) * rng.NormFloat64()
		if b := s.block[i]; b >= 0 {
			y[i] += s.z[i] * shared[b]
		}
		for c, v := range common {
			y[i] += s.x[i*s.p+c] * v
		}
	}
}

// twoFit is the best fit of two populations.
type twoFit struct {
	ratio float64 // 2 log likelihood ratio over one population
	apart float64 // s, the smaller group's lag minus the larger's
	share float64 // of the smaller group
}

// mixture fits z_i from share N(a_i m1, k^2) + (1-share) N(a_i m2, k^2) by the EM algorithm
// (Dempster, Laird and Rubin, J. R. Stat. Soc. B 39 (1977) 1), from several ways to cut the shots
// in two.
func mixture(z, a []float64) twoFit {
	n := len(z)
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	sort.Slice(order, func(p, q int) bool { return z[order[p]]/a[order[p]] < z[order[q]]/a[order[q]] })
	var za, aa, zz float64
	for i := range z {
		za, aa, zz = za+z[i]*a[i], aa+a[i]*a[i], zz+z[i]*z[i]
	}
	one := (zz - za*za/aa) / float64(n)
	best := twoFit{}
	for _, cut := range []float64{0.15, 0.5, 0.85} {
		k := min(max(int(cut*float64(n)), 1), n-1)
		if f := expectMaximise(z, a, order[:k], one); f.ratio > best.ratio {
			best = f
		}
	}
	return best
}

// expectMaximise runs EM from one cut; one is the variance of a single population.
func expectMaximise(z, a []float64, first []int, one float64) twoFit {
	n := len(z)
	w := make([]float64, n)
	for _, i := range first {
		w[i] = 1
	}
	f, last := twoFit{}, math.Inf(-1)
	for turn := 0; turn < emTurns; turn++ {
		var za, aa, zb, ab, count float64
		for i := range z {
			za, aa = za+w[i]*z[i]*a[i], aa+w[i]*a[i]*a[i]
			zb, ab = zb+(1-w[i])*z[i]*a[i], ab+(1-w[i])*a[i]*a[i]
			count += w[i]
		}
		m1, m2, pi := za/math.Max(aa, 1e-300), zb/math.Max(ab, 1e-300), count/float64(n)
		v := 0.0
		for i := range z {
			v += (w[i]*sq(z[i]-a[i]*m1) + (1-w[i])*sq(z[i]-a[i]*m2)) / float64(n)
		}
		v = math.Max(v, 1e-4*one)
		if !(pi > 0.5/float64(n) && pi < 1-0.5/float64(n)) {
			break
		}
		loglik := -0.5 * float64(n) * math.Log(v)
		for i := range z {
			d1, d2 := sq(z[i]-a[i]*m1)/(2*v), sq(z[i]-a[i]*m2)/(2*v)
			low := math.Min(d1, d2)
			p1, p2 := pi*math.Exp(low-d1), (1-pi)*math.Exp(low-d2)
			w[i] = p1 / (p1 + p2)
			loglik += math.Log(p1+p2) - low
		}
		f = twoFit{2 * (loglik + 0.5*float64(n)*(math.Log(one)+1)), m1 - m2, pi}
		if pi > 0.5 {
			f.apart, f.share = m2-m1, 1-pi
		}
		if loglik-last < emSettled {
			break
		}
		last = loglik
	}
	return f
}

// oddAgreement asks whether the shots set aside agree on one lag of their own: the chance that as
// many offsets, drawn evenly over the span theirs cover from the good shots, lie as close together.
// among is their share of the run, 0 when too few.
func (s *solution) oddAgreement() (chance, apart, among float64) {
	var off, sd []float64
	far := 0.0
	for i, odd := range s.odd {
		slope := s.x[i*s.p+colLag]
		if !odd || s.wrong[i] || slope == 0 {
			continue
		}
		off = append(off, s.residual(i)/slope)
		sd = append(sd, math.Sqrt(s.best.shrink*s.known2[i]/s.slope2[i]+s.best.t))
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
	return float64(below+1) / float64(twoDraws+1), mean, float64(k) / float64(len(s.odd))
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
