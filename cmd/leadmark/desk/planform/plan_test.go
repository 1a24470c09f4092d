package planform

import (
	"fmt"
	"net/http/httptest"
	"testing"
	"time"

	"leadmark/calib/rig"
	"leadmark/cmd/leadmark/desk/places"
	"leadmark/fit/parallel"
)

// Pages that ask at the same time are each given the plan that they asked for. The race detector
// watches this test (scripts/test).
func TestPlansAskedForAtOnce(t *testing.T) {
	folders, err := places.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	p := &Planner{Rigs: rig.Store{Root: t.TempDir()}, Now: time.Now, Places: folders}
	parallel.Each(6, 6, func(i int) {
		lag := 50 + i%3
		made, err := p.Plan(httptest.NewRequest("GET", fmt.Sprintf("/plan?preset=blowfly&lag_ms=%d&spread_ms=0.8", lag), nil))
		if err != nil {
			t.Error(err)
			return
		}
		if got := made.Request.Lag.Mean; got != float64(lag)*1e-3 {
			t.Errorf("a lag of %d ms was asked for; the plan is for %g s", lag, got)
		}
	})
}
