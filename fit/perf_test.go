package fit

import (
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

// Ten thousand shots with odd ones, times and settings, budget, checks and advice included: the bound is one second more than twice what
// numpy.polyfit takes for a line through as many points (1.2 ms, measured where this was written); half as much again is allowed for
// slower machines.
func TestManyShots(t *testing.T) {
	run, tr := simulate(cell{"drop", 5, 2000, 3, true, false}, rand.New(rand.NewPCG(9, 9)))
	spoil(run, 0.01, rand.New(rand.NewPCG(9, 1)))
	run = timed(run, rand.New(rand.NewPCG(9, 2)))
	begin := cpu()
	res, err := Lag(run)
	if err != nil {
		t.Fatal(err)
	}
	took := cpu() - begin
	t.Logf("10000 shots in %v; lag %.4f +- %.4f ms", took, 1e3*res.Lag.Value, 1e3*res.Lag.U)
	if took > 1500*time.Millisecond {
		t.Errorf("took %v", took)
	}
	if d := res.Lag.Value - tr.lag; d > 5*res.Lag.U || d < -5*res.Lag.U {
		t.Errorf("lag off by %g", d)
	}
}
