package fit

import (
	"math"
	"math/rand/v2"
	"runtime"
	"testing"
)

// manyShots is a run of levels x shots drops with odd ones, times and settings.
func manyShots(shots int) (Run, truth) {
	run, tr := simulate(cell{"drop", 5, shots / 5, 3, true, false}, rand.New(rand.NewPCG(9, 9)))
	spoil(run, 0.01, rand.New(rand.NewPCG(9, 1)))
	return timed(run, rand.New(rand.NewPCG(9, 2))), tr
}

// mostNumbers is how many numbers for each shot a fit may ask memory for: every pass over the shots
// asks for a few.
const mostNumbers = 6000

// Ten thousand shots with odd ones, times and settings, budget, checks and advice included, take as
// many passes over the shots as a thousand do: the work for each stays the same. scripts/bench fit
// holds the time.
func TestManyShots(t *testing.T) {
	numbers := func(shots int) float64 {
		run, tr := manyShots(shots)
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		res, err := Lag(run)
		runtime.ReadMemStats(&after)
		if err != nil {
			t.Fatal(err)
		}
		if d := math.Abs(res.Lag.Value - tr.lag); !(d <= 5*res.Lag.U) {
			t.Errorf("%d shots: lag off by %g", shots, d)
		}
		return float64(after.TotalAlloc-before.TotalAlloc) / 8 / float64(shots)
	}
	few, many := numbers(1000), numbers(10000)
	t.Logf("for each shot %.0f numbers with 1,000 of them, %.0f with 10,000", few, many)
	if !(many <= mostNumbers && many <= 1.2*few) {
		t.Errorf("for each shot %.0f numbers are asked for with 1,000 of them, %.0f with 10,000", few, many)
	}
}
