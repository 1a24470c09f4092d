package fit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// cell is one design of the simulation.
type cell struct {
	method  string  // drop, push, sweep
	heights int     // heights, speeds or delays
	shots   int     // a height
	ratio   float64 // spread's displacement over the reading noise
	common  bool
}

// simulate draws one invented run with known truth.
func simulate(c cell, rng *rand.Rand) (run Run, lag, trip, spread float64) {
	lag, trip = 0.0523, 0.0004
	const noise = 0.1e-3
	run = Run{Gravity: 9.80665}
	if c.common {
		run.GravityU = 0.001
		run.DropCommonU = 0.5e-3
	}
	level := make([]float64, c.heights)
	for h := range level {
		f := float64(h) / float64(c.heights-1)
		switch c.method {
		case "drop":
			level[h] = 0.15 + 0.75*f
		case "push":
			level[h] = 0.8 + 1.7*f
		case "sweep":
			level[h] = 0.020 * f
		}
	}
	typical := 2.5 // m/s
	if c.method != "drop" {
		typical = 1.5
	}
	spread = c.ratio * noise / typical
	common, grav := rng.NormFloat64()*run.DropCommonU, run.Gravity+rng.NormFloat64()*run.GravityU
	if c.method == "sweep" {
		u := 0.3e-3
		if !c.common {
			u = 0.05e-3
		}
		run.TripU = &u
		trip = rng.NormFloat64() * u
	}
	for _, lv := range level {
		var shared float64
		dropU, shotU, speedU := 0.0, 0.0, 0.0
		if c.common {
			dropU, shotU, speedU = 1e-3, 0.3e-3, 0.01
			shared = rng.NormFloat64() * dropU
		}
		for k := 0; k < c.shots; k++ {
			s := Shot{AdvanceU: noise * (0.7 + 0.6*rng.Float64())}
			v, a := 1.5, 0.0
			switch c.method {
			case "drop":
				s.Drop, s.DropU, s.DropShotU = lv, dropU, shotU
				v = math.Sqrt(2 * grav * (lv + shared + common + rng.NormFloat64()*shotU))
				a = grav
			case "push":
				v = lv * (1 + 0.03*rng.NormFloat64())
				s.SpeedU = speedU
				s.Speed = v + speedU*rng.NormFloat64()
			case "sweep":
				s.Delay, s.Group = lv, "a"
			}
			tau := lag + s.Delay + spread*rng.NormFloat64()
			s.Advance = trip + v*tau + a*tau*tau/2 + s.AdvanceU*rng.NormFloat64()
			run.Shots = append(run.Shots, s)
		}
	}
	return run, lag, trip, spread
}

func TestProto(t *testing.T) {
	t.Skip("prototype")
	for _, method := range []string{"drop", "push", "sweep"} {
		for _, common := range []bool{false, true} {
			for _, hs := range [][2]int{{2, 2}, {2, 6}, {3, 3}, {4, 6}, {6, 12}} {
				for _, ratio := range []float64{0, 0.5, 1, 3, 10} {
					c := cell{method, hs[0], hs[1], ratio, common}
					rng := rand.New(rand.NewPCG(1, 2))
					const N = 1000
					var hit [7]float64
					var se float64
					for i := 0; i < N; i++ {
						run, lag, trip, spread := simulate(c, rng)
						l := newLayout(run)
						w := make([]float64, len(run.Shots))
						for i := range w {
							w[i] = 1
						}
						th := make([]float64, l.p)
						th[colLag] = 0.05
						for g := range l.groups {
							th[colSpan+g] = 1.4
						}
						m, best := l.solve(th, w)
						post := m.integrate(best, yFloor)
						next := lag + spread*rng.NormFloat64()
						in := func(k int, iv Interval, x float64) {
							if iv.Low <= x && x <= iv.High {
								hit[k]++
							}
						}
						e := post.estimate(colLag)
						se += sq(e.Value - lag)
						in(0, e.Interval95, lag)
						tt := students(e.DF) * e.U
						in(1, Interval{e.Value - tt, e.Value + tt}, lag)
						in(2, post.estimate(colTrip).Interval95, trip)
						in(3, *post.nextShot(), next)
						in(4, post.spread().Interval95, spread)
						pb := m.integrate(best, 0)
						in(5, pb.estimate(colLag).Interval95, lag)
						in(6, *pb.nextShot(), next)
					}
					s := fmt.Sprintf("%5s %d x %2d ratio %4.1f common %5v:", method, hs[0], hs[1], ratio, common)
					for _, h := range hit {
						s += fmt.Sprintf(" %5.1f", 100*h/N)
					}
					fmt.Println(s, 1e3*math.Sqrt(se/N))
				}
			}
		}
	}
}
