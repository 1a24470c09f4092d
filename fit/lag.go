package fit

import (
	"math"
	"slices"

	"leadmark/fit/onelag"
	"leadmark/fit/outlier"
	"leadmark/fit/stat"
)

// Lag estimates what a run can tell of the rig: lag, spread, where the next shot falls, the true
// trip place, the speeds of groups, and the advances themselves. Which of them can be told is read
// from the design, not from a list of cases; what cannot is nil and explained in Notes, with what
// to shoot in Advice. Odd shots are weighed down and flagged, never left unsaid.
//
// It returns ErrNoShots, ErrTooFew (below 3 shots), ErrBadShot or ErrBadRun. It is deterministic.
func Lag(run Run) (Result, error) {
	if err := check(run); err != nil {
		return Result{}, err
	}
	sol := newLayout(run).review()
	know := sol.identify()
	return sol.finish(sol.estimates(know), know), nil
}

// finish adds what every run has: shots, advances, notes and advice.
func (s *solution) finish(res Result, know told) Result {
	res.Shots = s.shots(know)
	res.Advance = advances(s.run.Shots, s.Odd)
	res.Determined = determined(res)
	res.Budget = s.budgets(res)
	res.Odd = s.oddChange(know, res)
	res.Checks = s.checks(know)
	res.Notes = s.notes(know, res)
	res.Advice = s.advice(know)
	return res
}

// checks asks whether the run has one lag. Empty where the lag was not told: then nothing tells a
// changing lag from a changing advance.
func (s *solution) checks(know told) []onelag.Check {
	if !know.lag || !know.spread {
		return nil
	}
	shots := make([]onelag.Shot, len(s.run.Shots))
	for i, shot := range s.run.Shots {
		shots[i] = onelag.Shot{Time: shot.Time, HasTime: shot.HasTime, Setting: shot.Setting}
	}
	return onelag.Checks(onelag.Run{Fit: s.Fit, Lag: colLag, Shots: shots})
}

// determined lists what the result holds, in the order of the contract.
func determined(r Result) []string {
	var names []string
	add := func(have bool, name string) {
		if have {
			names = append(names, name)
		}
	}
	add(r.Lag != nil, "lag")
	add(r.Spread != nil, "spread")
	add(r.NextShot != nil, "next_shot")
	add(r.TripOffset != nil, "trip_offset")
	add(len(r.Speeds) > 0, "speeds")
	add(len(r.Advance) > 0, "advance")
	return names
}

// shots says of each shot what the fit makes of it.
func (s *solution) shots(know told) []ShotFit {
	out := make([]ShotFit, len(s.R))
	for i, shot := range s.run.Shots {
		r := s.Residual(i)
		out[i] = ShotFit{Fitted: shot.Advance - r, Residual: r, Z: s.Off[i], Weight: s.Weight[i], Outlier: s.Odd[i]}
		if s.Odd[i] {
			out[i].Why = s.why(i, r)
		}
	}
	for _, b := range batches(s.run.Shots) {
		if outlier.Whole(b.shots, s.Odd) {
			why := s.whyBatch(b, know)
			for _, i := range b.shots {
				out[i].Why = why
			}
		}
	}
	return out
}

// advances summarises the shots of each setting, in the order of drop, speed, group, delay.
func advances(shots []Shot, odd []bool) []AdvanceGroup {
	var out []AdvanceGroup
	for _, b := range batches(shots) {
		g := AdvanceGroup{Drop: b.Drop, Delay: b.Delay, Speed: b.Speed, Group: b.Group}
		var y []float64
		for _, i := range b.shots {
			if odd[i] {
				g.LeftOut++
				continue
			}
			y = append(y, shots[i].Advance)
		}
		if len(y) == 0 { // a batch odd from end to end is still summarised, by itself
			for _, i := range b.shots {
				y = append(y, shots[i].Advance)
			}
			g.LeftOut = 0
		}
		g.summarise(y, shots[b.shots[0]].AdvanceU)
		out = append(out, g)
	}
	slices.SortStableFunc(out, func(a, b AdvanceGroup) int { return a.setting().Compare(b.setting()) })
	return out
}

func (g AdvanceGroup) setting() Setting { return Setting{g.Drop, g.Delay, g.Speed, g.Group} }

// summarise fills mean (t interval), standard deviation and the 95/95 tolerance interval. A single
// shot has its reading's own uncertainty and no tolerance interval.
func (g *AdvanceGroup) summarise(y []float64, readU float64) {
	n := float64(len(y))
	g.N = len(y)
	mean, ss := y[0], 0.0
	for _, v := range y {
		mean += (v - y[0]) / n
	}
	for _, v := range y {
		ss += sq(v - mean)
	}
	if g.N == 1 {
		half := stat.T95(math.Inf(1)) * readU
		g.Mean = Estimate{mean, readU, ManyDF, Interval{mean - half, mean + half}, "single reading"}
		return
	}
	g.SD = math.Sqrt(ss / (n - 1))
	u := g.SD / math.Sqrt(n)
	half := stat.T95(n-1) * u
	g.Mean = Estimate{mean, u, n - 1, Interval{mean - half, mean + half}, "mean"}
	k := stat.Tolerance(n, n-1, 0.95, 0.95)
	g.Tolerance95 = &Interval{mean - k*g.SD, mean + k*g.SD}
}
