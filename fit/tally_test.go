package fit

import (
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"sync"

	"gonum.org/v1/gonum/stat/distuv"

	"leadmark/fit/mixed"
	"leadmark/fit/nextshot"
	"leadmark/fit/stat"
	"leadmark/scripts/claim"
)

// The ways of making intervals that were compared (docs/method.md).
const (
	wayChosen  = iota // restricted likelihood integrated over the extended path
	wayKR             // restricted likelihood, Kenward-Roger/Satterthwaite t
	wayBounded        // weak-prior Bayes with the spread held at nil or above
	wayPlugIn         // normal interval with the estimate put in as if known
	ways
)

var wayName = [ways]string{"chosen", "KR t", "Bayes>=0", "plug-in z"}

// tally counts what the intervals of one way held.
type tally struct{ Lag, Trip, Next, Spread, Speed int }

// with adds what another way or other runs held.
func (a tally) with(b tally) tally {
	return tally{a.Lag + b.Lag, a.Trip + b.Trip, a.Next + b.Next, a.Spread + b.Spread, a.Speed + b.Speed}
}

// outcome is what the runs of a cell gave. A lag that is withheld counts as not held, as do the
// other unknowns of that run; it has no error and no width.
type outcome struct {
	Runs, Withheld int
	Held           [ways]tally
	Error, Width   ratio
	Flagged, Shots int
}

func (o *outcome) add(p outcome) {
	o.Runs, o.Withheld = o.Runs+p.Runs, o.Withheld+p.Withheld
	for w := range o.Held {
		o.Held[w] = o.Held[w].with(p.Held[w])
	}
	o.Error, o.Width = o.Error.with(p.Error), o.Width.with(p.Width)
	o.Flagged, o.Shots = o.Flagged+p.Flagged, o.Shots+p.Shots
}

// ratio is one of two means over the same runs: sums of both, of their squares and their product.
type ratio struct {
	N                int
	A, B, AA, BB, AB float64
}

func (r *ratio) add(a, b float64) {
	r.N, r.A, r.B, r.AA, r.BB, r.AB = r.N+1, r.A+a, r.B+b, r.AA+a*a, r.BB+b*b, r.AB+a*b
}

func (r ratio) with(s ratio) ratio {
	return ratio{r.N + s.N, r.A + s.A, r.B + s.B, r.AA + s.AA, r.BB + s.BB, r.AB + s.AB}
}

// figure is the ratio with its uncertainty, linear in both means, or the root of it.
func (r ratio) figure(root bool) claim.Figure {
	v := r.A / r.B
	u := v * math.Sqrt(r.AA/(r.A*r.A)+r.BB/(r.B*r.B)-2*r.AB/(r.A*r.B))
	if root {
		v = math.Sqrt(v)
		u /= 2 * v
	}
	return claim.Value(v, u, r.N)
}

// Its error is that of the lag over the yardstick's, root mean squares of both.
func (o outcome) errorRatio() claim.Figure { return o.Error.figure(true) }

// widthRatio is the lag's interval over that of one who knows the truth, means of both.
func (o outcome) widthRatio() claim.Figure { return o.Width.figure(false) }

func holds(iv Interval, x float64) int {
	if iv.Low <= x && x <= iv.High {
		return 1
	}
	return 0
}

// try simulates one run and counts.
func (o *outcome) try(c cell, rng *rand.Rand, compare bool) {
	run, t := simulate(c, rng)
	sol := newLayout(run).review()
	know := sol.identify()
	know.trip = true // with a known trip place it is not reported, but its interval must hold
	o.Runs++
	o.Shots += len(run.Shots)
	for _, odd := range sol.Odd {
		if odd {
			o.Flagged++
		}
	}
	res := sol.estimates(know)
	if res.Lag == nil {
		o.Withheld++
		return
	}
	lag, h := res.Lag, &o.Held[wayChosen]
	h.Lag += holds(lag.Interval95, t.lag)
	h.Trip += holds(res.TripOffset.Interval95, t.trip)
	if res.NextShot != nil && res.Spread != nil {
		h.Next += holds(*res.NextShot, t.next)
		h.Spread += holds(res.Spread.Interval95, t.spread)
	}
	if c.method == "sweep" && len(res.Speeds) == 1 {
		h.Speed += holds(res.Speeds[0].Interval95, t.speed)
	}
	best, u := bestLag(run, t)
	o.Error.add(sq(lag.Value-t.lag), sq(best-t.lag))
	o.Width.add(lag.Interval95.High-lag.Interval95.Low, 2*1.959964*u)
	if compare {
		o.compare(sol, sol.integrate(mixed.Floor), t)
	}
}

// compare counts the other ways on the same fit.
func (o *outcome) compare(sol *solution, post *posterior, t truth) {
	around := func(e *Estimate, k float64) Interval { return Interval{e.Value - k*e.U, e.Value + k*e.U} }
	lag, trip := post.estimate(colLag), post.estimate(colTrip)
	kr, z := &o.Held[wayKR], &o.Held[wayPlugIn]
	kr.Lag += holds(around(lag, stat.T95(lag.DF)), t.lag)
	kr.Trip += holds(around(trip, stat.T95(trip.DF)), t.trip)
	v := sol.Best.Cov[0] + sol.Best.T
	dt := 0.0
	if sol.Best.Y > 0 {
		dt = sol.Unit * math.Exp(sol.Best.Y)
	}
	df := 2 * v * v * sol.Best.Info / sq(sol.Best.DCov[0]+dt)
	next := &Estimate{Value: lag.Value, U: math.Sqrt(v)}
	kr.Next += holds(around(next, stat.T95(df)), t.next)
	kr.Spread += holds(qProfile(sol), t.spread)
	plain := &Estimate{Value: lag.Value, U: math.Sqrt(sol.At(math.Max(sol.Best.Y, 0)).Cov[0])}
	z.Lag += holds(around(plain, 1.96), t.lag)
	plainTrip := &Estimate{Value: trip.Value, U: math.Sqrt(sol.At(math.Max(sol.Best.Y, 0)).Cov[sol.P+1])}
	z.Trip += holds(around(plainTrip, 1.96), t.trip)
	z.Next += holds(around(&Estimate{Value: lag.Value, U: math.Hypot(plain.U, math.Sqrt(sol.Best.T))}, 1.96), t.next)
	sp := post.spread()
	z.Spread += holds(Interval{math.Max(0, sp.Value-1.96*sp.U), sp.Value + 1.96*sp.U}, t.spread)
	bounded := sol.integrate(0)
	b := &o.Held[wayBounded]
	b.Lag += holds(bounded.estimate(colLag).Interval95, t.lag)
	b.Trip += holds(bounded.estimate(colTrip).Interval95, t.trip)
	low, high := nextshot.Interval(bounded.Posterior, colLag)
	b.Next += holds(Interval{low, high}, t.next)
	b.Spread += holds(bounded.spread().Interval95, t.spread)
}

// qProfile inverts the chi-squared law of the weighted sum of squares (Viechtbauer 2007).
func qProfile(sol *solution) Interval {
	chi := distuv.ChiSquared{K: float64(sol.N - sol.Rank())}
	at := func(p float64) float64 {
		lo, hi := 0.0, 60.0
		if sol.At(0).Q < chi.Quantile(p) {
			return 0
		}
		for i := 0; i < 60; i++ {
			if mid := (lo + hi) / 2; sol.At(mid).Q > chi.Quantile(p) {
				lo = mid
			} else {
				hi = mid
			}
		}
		return math.Sqrt(sol.Unit * math.Expm1(lo))
	}
	return Interval{at(0.975), at(0.025)}
}

// stream numbers the cell's own random stream, so that cells do not share their luck.
func (c cell) stream() uint64 {
	h := fnv.New64a()
	fmt.Fprintf(h, "%+v", c)
	return h.Sum64()
}

// runCell spreads the runs of a cell over two workers; each worker has its own seeded stream, so
// the outcome does not depend on timing.
func runCell(c cell, runs int, seed uint64, compare bool) outcome {
	const workers = 2
	var parts [workers]outcome
	var wait sync.WaitGroup
	for w := 0; w < workers; w++ {
		wait.Add(1)
		go func() {
			defer wait.Done()
			rng := rand.New(rand.NewPCG(seed, c.stream()+uint64(w)))
			for i := w; i < runs; i += workers {
				parts[w].try(c, rng, compare)
			}
		}()
	}
	wait.Wait()
	var o outcome
	for _, p := range parts {
		o.add(p)
	}
	return o
}
