package fit

import (
	"math"
	"math/rand/v2"
	"syscall"
	"testing"
	"time"
)

// cpu is the processor time this process has used, which other work on the machine does not change.
func cpu() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// manyShots is a run of levels x shots drops with odd ones, times and settings.
func manyShots(shots int) (Run, truth) {
	run, tr := simulate(cell{"drop", 5, shots / 5, 3, true, false}, rand.New(rand.NewPCG(9, 9)))
	spoil(run, 0.01, rand.New(rand.NewPCG(9, 1)))
	return timed(run, rand.New(rand.NewPCG(9, 2))), tr
}

// Ten thousand shots with odd ones, times and settings, budget, checks and advice included: ten times the shots cost at the most
// twelve times as much, set side by side. scripts/speed holds the whole against a plain line through as many points by numpy or R.
func TestManyShots(t *testing.T) {
	if testing.Short() {
		t.Skip("times the estimator")
	}
	timeOf := func(shots int) (time.Duration, Result, truth) {
		run, tr := manyShots(shots)
		begin := cpu()
		res, err := Lag(run)
		if err != nil {
			t.Fatal(err)
		}
		return cpu() - begin, res, tr
	}
	took, res, tr := timeOf(10000)
	t.Logf("10000 shots in %v; lag %.4f +- %.4f ms", took, 1e3*res.Lag.Value, 1e3*res.Lag.U)
	if d := res.Lag.Value - tr.lag; d > 5*res.Lag.U || d < -5*res.Lag.U {
		t.Errorf("lag off by %g", d)
	}
	best := math.Inf(1) // of a few turns: other work on the machine may slow one of the two
	for range 5 {
		few, _, _ := timeOf(1000)
		many, _, _ := timeOf(10000)
		best = min(best, many.Seconds()/few.Seconds())
	}
	t.Logf("ten times the shots take %.2f times as long", best)
	if best > 12 {
		t.Errorf("ten times the shots take %.2f times as long", best)
	}
}
