package onelag

import (
	"math"
	"sort"
)

const (
	emTurns   = 25
	emSettled = 1e-3 // of the logarithm of the likelihood
)

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

func sq(x float64) float64 { return x * x }
