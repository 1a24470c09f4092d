package plan_test

import (
	"math"
	"testing"

	"leadmark/calib/plan"
	"leadmark/calib/plan/light"
	"leadmark/calib/rig"
)

// Freezing: the highest power short enough, and the distance at which it gives the same light: two
// stops less power is half the distance (inverse square).
func TestFreezingPowerAndDistance(t *testing.T) {
	p := makePlan(t, func(r *plan.Request) {
		r.Rig.Flash = []rig.Head{key(1.0 / 16)}
		r.Rig.Flash[0].T01 = table(map[float64]float64{1.0 / 4: 600, 1.0 / 8: 300, 1.0 / 16: 160,
			1.0 / 32: 85, 1.0 / 64: 45, 1.0 / 128: 30})
		r.Options.FNumber = 16
	})
	h := p.Light.Heads[0]
	if h.Freeze == 0 || h.Freeze >= h.Power {
		t.Fatalf("%+v", h)
	}
	near(t, "distance", h.FreezeAt, 0.3*math.Sqrt(h.Freeze/h.Power), 1e-9)
	if blur := light.MotionBlur(p.Focus.Pace, durationOf(p.Request.Rig.Flash[0], h.Freeze),
		p.Framing.Optics.Magnification); blur > p.Focus.Limit {
		t.Errorf("the freezing power blurs by %g, the limit is %g", blur, p.Focus.Limit)
	}
	if blur := light.MotionBlur(p.Focus.Pace, durationOf(p.Request.Rig.Flash[0], 2*h.Freeze),
		p.Framing.Optics.Magnification); blur <= p.Focus.Limit {
		t.Errorf("a higher power freezes too: %g", blur)
	}
}

func durationOf(h rig.Head, power float64) float64 {
	for _, d := range h.T01 {
		if math.Abs(d.Power/power-1) < 1e-9 {
			return d.Seconds
		}
	}
	return math.Inf(1)
}
