package design

import (
	"math"

	"leadmark/fit"
)

const (
	mostSettings = 6    // more are a nuisance to set up
	fewSettings  = 1.01 // a setting is dropped when the others reach its uncertainty up to this factor
)

// designer chooses among settings for shots to come.
type designer struct {
	*fit.Outlook
	base []float64 // information of the shots there are, and of what is known beforehand
	cand []candidate
	memo map[int][]int
}

// candidate is a setting that could be shot.
type candidate struct {
	Batch
	fit.Gain
	shot fit.Shot
}

func newDesigner(o *fit.Outlook, settings []Batch) *designer {
	shots := make([]fit.Shot, len(settings))
	for k, b := range settings {
		shots[k] = o.Like()
		shots[k].Drop, shots[k].Speed, shots[k].Delay, shots[k].Group = b.Drop, b.Speed, b.Delay, b.Group
	}
	d := &designer{Outlook: o, memo: map[int][]int{}}
	base, gains := o.Information(shots)
	d.base = base
	for k, b := range settings {
		d.cand = append(d.cand, candidate{b, gains[k], shots[k]})
	}
	return d
}

// variance of the lag with counts more shots; faint traces of every setting keep the matrix
// invertible at the start.
func (d *designer) variance(counts []int) float64 {
	const faint = 1e-7
	a := append([]float64(nil), d.base...)
	p := len(d.cand[0].X)
	for k, c := range d.cand {
		s := c.Had + (float64(counts[k])+faint)/c.Variance
		w := s / (1 + c.Shared*s)
		for i, xi := range c.X {
			if xi == 0 {
				continue
			}
			for j, xj := range c.X {
				a[i*p+j] += w * xi * xj
			}
		}
	}
	return lagVariance(a, p)
}

// lagVariance is element (0, 0) of the inverse, by elimination from the last unknown up; unknowns
// nothing is known of are passed over.
func lagVariance(a []float64, p int) float64 {
	for k := p - 1; k > 0; k-- {
		pivot := a[k*p+k]
		if !(pivot > 0) {
			continue
		}
		for i := 0; i < k; i++ {
			f := a[i*p+k] / pivot
			for j := 0; j < k; j++ {
				a[i*p+j] -= f * a[k*p+j]
			}
		}
	}
	if !(a[0] > 0) {
		return math.Inf(1)
	}
	return 1 / a[0]
}

// best is the number of shots at each candidate for a total of n.
func (d *designer) best(n int) []int {
	if counts, ok := d.memo[n]; ok {
		return counts
	}
	allowed := make([]bool, len(d.cand))
	for k := range allowed {
		allowed[k] = true
	}
	counts, v := d.exchange(n, allowed)
	for {
		fewest, used := -1, 0
		for k, c := range counts {
			if c > 0 {
				used++
			}
			if c > 0 && (fewest < 0 || c < counts[fewest]) {
				fewest = k
			}
		}
		if fewest < 0 {
			break
		}
		allowed[fewest] = false
		fewer, more := d.exchange(n, allowed)
		if fewer == nil || used <= mostSettings && !(more <= v*fewSettings*fewSettings) {
			break
		}
		if counts = fewer; used > mostSettings {
			v = more
		}
	}
	d.memo[n] = counts
	return counts
}

// exchange adds shots one by one where they help most, then moves single shots while that helps.
func (d *designer) exchange(n int, allowed []bool) ([]int, float64) {
	counts := make([]int, len(d.cand))
	v := math.Inf(1)
	for left := n; left > 0; {
		step := 1
		if left > 60 { // in bulk first: the exchange below puts right what this misses
			step = left / 30
		}
		at, least := -1, math.Inf(1)
		for k := range counts {
			if !allowed[k] {
				continue
			}
			counts[k] += step
			if u := d.variance(counts); u < least {
				at, least = k, u
			}
			counts[k] -= step
		}
		if at < 0 {
			return nil, v
		}
		counts[at] += step
		left, v = left-step, least
	}
	for _, size := range []int{max(n/10, 1), 1} {
		v = d.move(counts, allowed, size, v)
	}
	return counts, v
}

// move takes size shots at a time from one setting to another while the variance falls.
func (d *designer) move(counts []int, allowed []bool, size int, v float64) float64 {
	for round := 0; round < 100; round++ {
		from, to, least := -1, -1, v*(1-1e-9)
		for i := range counts {
			if counts[i] < size {
				continue
			}
			counts[i] -= size
			for j := range counts {
				if j == i || !allowed[j] {
					continue
				}
				counts[j] += size
				if u := d.variance(counts); u < least {
					from, to, least = i, j, u
				}
				counts[j] -= size
			}
			counts[i] += size
		}
		if from < 0 {
			break
		}
		counts[from] -= size
		counts[to] += size
		v = least
	}
	return v
}

// shots are so many of each candidate.
func (d *designer) shots(counts []int) []fit.Shot {
	var list []fit.Shot
	for k, n := range counts {
		for ; n > 0; n-- {
			list = append(list, d.cand[k].shot)
		}
	}
	return list
}

// promise is the lag's standard uncertainty as fit would report it then; more is the margin it is
// to be held with.
func (d *designer) promise(counts []int) (u, more float64) {
	u, df, ok := d.After(d.shots(counts))
	if !ok {
		return math.Inf(1), 1
	}
	return u, margin(df)
}

// margin is what is asked beyond the goal while the scatter is known from few shots: who stops as
// soon as the goal is met stops more often after a run that scatters little by chance.
func margin(df float64) float64 { return 1 + 1/(2*math.Max(df, 1)) }

// least is the smallest number of shots up to most whose promise is good enough, 0 when none is.
func (d *designer) least(most int, enough func(u, margin float64) bool) int {
	lo, hi := 0, 1
	for !enough(d.promise(d.best(hi))) {
		if hi >= most {
			return 0
		}
		lo, hi = hi, min(2*hi, most)
	}
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; enough(d.promise(d.best(mid))) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}
