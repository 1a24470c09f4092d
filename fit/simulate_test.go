package fit

import (
	"math"
	"math/rand/v2"
)

// cell is one design of the simulation. All of it is invented; the truths are known.
type cell struct {
	method string  // drop, push or sweep
	levels int     // heights, speeds or delays
	shots  int     // a level
	ratio  float64 // spread x typical speed over the reading noise
	common bool    // with errors of heights, letting go, tape, gravity, speeds and trip place
	given  bool    // the trip place is known; always so for a sweep
}

// truth is what a simulated run was drawn from.
type truth struct {
	lag, trip, spread, next float64
	speed                   float64   // of the group of a sweep
	speeds                  []float64 // of each shot, m/s
}

const readNoise = 0.1e-3 // m, typical standard uncertainty of a reading

// simulate draws one run. Heights lie evenly between 0.15 and 0.9 m, speeds between 0.8 and 2.5 m/s,
// delays between 0 and 20 ms. Reading uncertainties differ from shot to shot by +-30 %.
func simulate(c cell, rng *rand.Rand) (Run, truth) {
	t := truth{lag: 0.0523, trip: 0.0004, speed: 1.5}
	run := Run{Gravity: 9.80665}
	typical := 1.5
	if c.method == "drop" {
		typical = 3.2 // v + g lag, mid-range
	}
	t.spread = c.ratio * readNoise / typical
	if c.common && c.method == "drop" {
		run.GravityU, run.DropCommonU = 1e-3, 0.5e-3
	}
	if c.method == "sweep" || c.given {
		run.TripU = ptr(0.05e-3)
		if c.common {
			run.TripU = ptr(0.3e-3)
		}
		t.trip = *run.TripU * rng.NormFloat64()
	}
	g := run.Gravity + run.GravityU*rng.NormFloat64()
	tape := run.DropCommonU * rng.NormFloat64()
	for k := 0; k < c.levels; k++ {
		c.level(&run, &t, float64(k)/float64(c.levels-1), g, tape, rng)
	}
	t.next = t.lag + t.spread*rng.NormFloat64()
	return run, t
}

// level adds the shots of one height, speed or delay; at runs from 0 to 1.
func (c cell) level(run *Run, t *truth, at, g, tape float64, rng *rand.Rand) {
	like := Shot{}
	if c.common {
		like = Shot{DropU: 1e-3, DropShotU: 0.3e-3, SpeedU: 0.01}
	}
	height := 0.15 + 0.75*at + tape + like.DropU*rng.NormFloat64()
	for k := 0; k < c.shots; k++ {
		s := Shot{AdvanceU: readNoise * (0.7 + 0.6*rng.Float64())}
		v, a := t.speed, 0.0
		switch c.method {
		case "drop":
			s.Drop, s.DropU, s.DropShotU = 0.15+0.75*at, like.DropU, like.DropShotU
			v, a = math.Sqrt(2*g*(height+like.DropShotU*rng.NormFloat64())), g
		case "push":
			v = (0.8 + 1.7*at) * (1 + 0.03*rng.NormFloat64())
			s.Speed, s.SpeedU = v+like.SpeedU*rng.NormFloat64(), like.SpeedU
		case "sweep":
			s.Delay, s.Group = 0.020*at, "a"
		}
		tau := t.lag + s.Delay + t.spread*rng.NormFloat64()
		s.Advance = t.trip + v*tau + a*tau*tau/2 + s.AdvanceU*rng.NormFloat64()
		run.Shots, t.speeds = append(run.Shots, s), append(t.speeds, v)
	}
}

// quick is Lag without notes, checks and advice, for simulations that need none of them.
func quick(run Run) Result {
	sol := newLayout(run).review()
	return sol.estimates(sol.identify())
}
