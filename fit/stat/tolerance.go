package stat

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Tolerance is the factor k by which mean +- k s holds at least the share p of a normal population
// with confidence conf; the mean is that of n values and s has df degrees of freedom. Exact:
// k solves  int P(chi2_df > df r(z)^2/k^2) phi(z; 0, 1/n) dz = conf,  Phi(z+r) - Phi(z-r) = p
// (ISO 16269-6:2014; Howe's approximation is not used). NaN unless n >= 1, df > 0 and p, conf lie
// between 0 and 1.
func Tolerance(n, df, p, conf float64) float64 {
	if !(n >= 1 && df > 0 && p > 0 && p < 1 && conf > 0 && conf < 1) {
		return math.NaN()
	}
	chi := distuv.ChiSquared{K: df}
	nodes := toleranceNodes(n, p)
	held := func(k float64) float64 {
		sum := 0.0
		for _, q := range nodes {
			sum += q.mass * chi.Survival(df*square(q.r/k))
		}
		return sum
	}
	lo, hi := 0.1, 2.0
	for held(lo) > conf {
		lo /= 2
	}
	for held(hi) < conf {
		hi *= 2
	}
	return Root(func(k float64) float64 { return held(k) - conf }, lo, hi)
}

type toleranceNode struct{ mass, r float64 }

// toleranceNodes lays the trapezoid rule over the mean's normal law: on a smooth density that dies
// out at both ends it is exact to rounding.
func toleranceNodes(n, p float64) []toleranceNode {
	const half, reach = 120, 9.0
	nodes := make([]toleranceNode, 0, half+1)
	for i := 0; i <= half; i++ {
		u := reach * float64(i) / half
		mass := reach / half * math.Exp(-u*u/2) / math.Sqrt(2*math.Pi) * 2
		if i == 0 {
			mass /= 2
		}
		nodes = append(nodes, toleranceNode{mass, holding(u/math.Sqrt(n), p)})
	}
	return nodes
}

// holding is the half-width r about z that holds the share p of a standard normal.
func holding(z, p float64) float64 {
	r := z + NormalQuantile(p)
	r = math.Max(r, NormalQuantile((1+p)/2))
	for i := 0; i < 100; i++ {
		f := 0.5*(math.Erfc((z-r)/math.Sqrt2)-math.Erfc((z+r)/math.Sqrt2)) - p
		df := (math.Exp(-square(z+r)/2) + math.Exp(-square(z-r)/2)) / math.Sqrt(2*math.Pi)
		step := f / df
		r -= step
		if math.Abs(step) < 1e-15*r {
			break
		}
	}
	return r
}
