package stat

import (
	"math"
	"math/rand/v2"
	"slices"
)

// Line is y = A + B x with the robust scale of its residuals.
type Line struct{ A, B, Scale float64 }

const (
	ltsDraws = 80 // elemental Lines tried where there are more pairs than that
	ltsSeed  = 20270
)

// LeastTrimmed fits the line with the least sum of the smaller half of the squared residuals
// (Rousseeuw 1984; concentration steps Rousseeuw and Van Driessen 2006). Up to half of the points
// may be wrong. level says that all x are alike: then the line is flat. The scale is the trimmed
// one, made consistent for normal errors.
func LeastTrimmed(x, y []float64, level bool) Line {
	n := len(x)
	q := 2
	if level {
		q = 1
	}
	h := (n + q + 1) / 2
	if h > n {
		h = n
	}
	best, least := Line{}, math.Inf(1)
	try := func(l Line) {
		l = refit(x, y, nearest(x, y, l, h), level)
		if sum := trimmedSum(x, y, l, h); sum < least {
			best, least = l, sum
		}
	}
	if level {
		order := append([]float64(nil), y...)
		slices.Sort(order)
		best, least = shortestRun(order, h)
	} else {
		eachPair(x, y, try)
		for c := 0; c < 8; c++ {
			try(best)
		}
	}
	best.Scale = math.Sqrt(least/float64(h)) * trimFactor(h, n) * (1 + 2/float64(n-q+1))
	return best
}

// shortestRun finds the h neighbours of least scatter in sorted values: the exact answer in one
// dimension.
func shortestRun(order []float64, h int) (best Line, least float64) {
	least = math.Inf(1)
	mid := order[len(order)/2] // keeps the squares small
	sum, sum2 := 0.0, 0.0
	for i, v := range order {
		sum, sum2 = sum+v-mid, sum2+square(v-mid)
		if i >= h {
			sum, sum2 = sum-(order[i-h]-mid), sum2-square(order[i-h]-mid)
		}
		if ss := sum2 - sum*sum/float64(h); i >= h-1 && ss < least {
			best, least = Line{A: mid + sum/float64(h)}, math.Max(ss, 0)
		}
	}
	return best, least
}

// trimFactor makes the root mean square of the h smallest of n normal residuals consistent.
func trimFactor(h, n int) float64 {
	if h >= n {
		return 1
	}
	q := NormalQuantile((1 + float64(h)/float64(n)) / 2)
	left := 1 - 2*q*math.Exp(-q*q/2)/math.Sqrt(2*math.Pi)*float64(n)/float64(h)
	return 1 / math.Sqrt(left)
}

// eachPair tries the line through every pair of shots, or through a fixed draw of pairs.
func eachPair(x, y []float64, try func(Line)) {
	n := len(x)
	pair := func(i, j int) {
		if x[i] != x[j] {
			b := (y[j] - y[i]) / (x[j] - x[i])
			try(Line{A: y[i] - b*x[i], B: b})
		}
	}
	if n*(n-1)/2 <= ltsDraws {
		for i := 0; i < n; i++ {
			for j := 0; j < i; j++ {
				pair(i, j)
			}
		}
		return
	}
	rng := rand.New(rand.NewPCG(ltsSeed, uint64(n)))
	for k := 0; k < ltsDraws; k++ {
		i, j := rng.IntN(n), rng.IntN(n)
		for x[i] == x[j] { // level strands never come here, so another x exists
			j = (j + 1) % n
		}
		pair(i, j)
	}
}

// nearest lists the h shots closest to the line.
func nearest(x, y []float64, l Line, h int) []int {
	r := make([]float64, len(x))
	for i := range x {
		r[i] = math.Abs(y[i] - l.A - l.B*x[i])
	}
	edge := Select(append([]float64(nil), r...), h-1)
	use := make([]int, 0, h)
	for i, v := range r {
		if v < edge {
			use = append(use, i)
		}
	}
	for i, v := range r { // ties at the edge, first come first
		if v == edge && len(use) < h {
			use = append(use, i)
		}
	}
	return use
}

func trimmedSum(x, y []float64, l Line, h int) float64 {
	sum := 0.0
	for _, i := range nearest(x, y, l, h) {
		sum += square(y[i] - l.A - l.B*x[i])
	}
	return sum
}

// refit is the least-squares line through the chosen shots.
func refit(x, y []float64, use []int, level bool) Line {
	var mx, my, xx, xy float64
	for _, i := range use {
		mx, my = mx+x[i], my+y[i]
	}
	mx, my = mx/float64(len(use)), my/float64(len(use))
	for _, i := range use {
		xx, xy = xx+square(x[i]-mx), xy+(x[i]-mx)*(y[i]-my)
	}
	if level || xx == 0 {
		return Line{A: my}
	}
	return Line{A: my - xy/xx*mx, B: xy / xx}
}

func square(x float64) float64 { return x * x }
