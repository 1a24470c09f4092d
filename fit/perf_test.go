package fit

import (
	"math/rand/v2"
	"testing"
	"time"
)

// Ten thousand shots fit in about a second; the bound is loose for a busy machine.
func TestManyShots(t *testing.T) {
	run, tr := simulate(cell{"drop", 5, 2000, 3, true}, rand.New(rand.NewPCG(9, 9)))
	spoil(run, 0.01, rand.New(rand.NewPCG(9, 1)))
	begin := time.Now()
	res, err := Lag(run)
	if err != nil {
		t.Fatal(err)
	}
	took := time.Since(begin)
	t.Logf("10000 shots in %v; lag %.4f +- %.4f ms", took, 1e3*res.Lag.Value, 1e3*res.Lag.U)
	if took > 10*time.Second {
		t.Errorf("took %v", took)
	}
	if d := res.Lag.Value - tr.lag; d > 5*res.Lag.U || d < -5*res.Lag.U {
		t.Errorf("lag off by %g", d)
	}
}
