package calib

import (
	"fmt"
	"math"
	"testing"

	"leadmark/calib/runfile"
)

// The trail ends with what the whole run tells, and never tells more frames than there are.
func TestTrailEndsWithTheResult(t *testing.T) {
	run := runfile.Run{Method: runfile.Drop, Defaults: runfile.Conditions{Gravity: runfile.StandardGravity,
		GravityU: runfile.StandardGravityU}}
	var list []runfile.HandReading
	for i := range 12 {
		c := run.Defaults
		c.Drop = []float64{0.1, 0.4, 0.9}[i%3]
		v, tau := math.Sqrt(2*c.Gravity*c.Drop), 0.05+0.0007*float64(i%4)
		list = append(list, runfile.HandReading{ShotEntry: runfile.ShotEntry{Frame: fmt.Sprintf("%02d.jpg", i),
			Use: true, Conditions: c}, Read: true, Advance: v*tau + c.Gravity*tau*tau/2, U: 1e-4})
	}
	r, err := FromReadings(run, runfile.Readings{List: list})
	if err != nil {
		t.Fatal(err)
	}
	trail := Trail(r, 40)
	if len(trail) < 5 {
		t.Fatalf("%d points", len(trail))
	}
	for i, p := range trail {
		if p.N > 12 || i > 0 && p.N <= trail[i-1].N || !(p.Low <= p.Lag && p.Lag <= p.High) {
			t.Errorf("point %d: %+v", i, p)
		}
	}
	if last := trail[len(trail)-1]; last.N != 12 || last.Lag != r.Fit.Lag.Value ||
		last.Low != r.Fit.Lag.Interval95.Low {
		t.Errorf("the last is %+v, the run tells %+v", last, *r.Fit.Lag)
	}
	if first, last := trail[0], trail[len(trail)-1]; first.High-first.Low < last.High-last.Low {
		t.Errorf("it did not narrow: %+v, %+v", first, last)
	}
}
