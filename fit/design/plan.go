package design

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"leadmark/fit"
	"leadmark/fit/note"
)

const (
	planShots  = 500  // at most, where the goal says nothing
	pilotShots = 8    // of a first run, before its own spread is known
	sureDF     = 40   // degrees of freedom from which the spread needs no further stage
	nearLimit  = 1.05 // shots that come this near to what no number of shots can better are enough

	likelyLag      = 0.05 // s, of a first run that nothing is told of
	likelySpread   = 1e-3 // s
	likelyAdvanceU = 1e-4 // m
)

// ErrBadGoal is the error of a goal; test with errors.Is.
var ErrBadGoal = errors.New("the goal cannot be planned for")

// Plan says what to shoot next to bring the lag's standard uncertainty (or the next shot's) to a
// goal. Added shots enter the information matrix of the fitted model at the estimated spread; the
// settings and their numbers are those with the least variance of the lag for their total
// (c-optimal exact design: Fedorov 1972; exchange of single shots), and the total is the least that
// keeps the promise, Kenward and Roger's addition included. With no shots in the run it plans a
// first one on goal.Assume. Shoot Stage and plan again until Reached.
//
// It returns ErrBadGoal, or an error of fit.Lag; a run of one or two shots counts as none.
func Plan(run fit.Run, goal Goal) (Schedule, error) {
	if err := checkGoal(goal); err != nil {
		return Schedule{}, err
	}
	if len(run.Shots) < fit.MinShots {
		return first(run, goal)
	}
	o, err := fit.NewOutlook(run)
	if err != nil {
		return Schedule{}, err
	}
	d := newDesigner(o, settingsOf(run, goal))
	out := Schedule{Spread: math.Sqrt(o.Spread2), ULagNow: o.ULag}
	if len(d.cand) == 0 {
		return out, fmt.Errorf("%w: the run has neither drops nor speeds nor a swept delay to go on "+
			"with\nhint: plan a first run of drops instead", ErrBadGoal)
	}
	if u := d.target(goal); o.ULag > 0 && out.ULagNow*margin(o.DF) <= u {
		out.Reached, out.Possible, out.ULag = true, true, out.ULagNow
		out.UNext = math.Hypot(out.ULag, out.Spread)
		return out, nil
	}
	return out, d.fill(&out, goal)
}

func checkGoal(g Goal) error {
	if !(g.ULag > 0 || g.UNext > 0) {
		return fmt.Errorf("%w: it names no uncertainty to reach\nhint: state the standard uncertainty "+
			"wanted of the lag, such as 0.2 ms", ErrBadGoal)
	}
	for _, v := range append([]float64{g.ULag, g.UNext, g.MaxDrop, g.MaxDelay, float64(g.MaxShots),
		g.Assume.Lag, g.Assume.Spread, g.Assume.AdvanceU, g.Assume.DropU, g.Assume.DropShotU,
		g.Assume.SpeedU}, g.Assume.Speeds...) {
		if !(v >= 0) || math.IsInf(v, 0) {
			return fmt.Errorf("%w: one of its numbers is %g; all must be nil or positive", ErrBadGoal, v)
		}
	}
	return nil
}

// first plans a run when there is none yet.
func first(run fit.Run, goal Goal) (Schedule, error) {
	a := goal.Assume
	a.Lag, a.Spread = firstOf(a.Lag, likelyLag), firstOf(a.Spread, likelySpread)
	a.AdvanceU = firstOf(a.AdvanceU, likelyAdvanceU)
	run.Gravity = firstOf(run.Gravity, 9.80665)
	maxDrop := firstOf(firstOf(goal.MaxDrop, run.MaxDrop), fit.FirstDrop)
	settings := dropSettings(nil, maxDrop, 0, 0)
	assumed := note.Of("assumed", "drops", maxDrop, a.Lag, a.Spread, a.Source, a.AdvanceU)
	if len(a.Speeds) > 0 {
		settings = nil
		for _, v := range a.Speeds {
			if v > 0 {
				settings = append(settings, Batch{Speed: v})
			}
		}
		if len(settings) == 0 {
			return Schedule{}, fmt.Errorf("%w: no speed to push at is positive", ErrBadGoal)
		}
		assumed = note.Of("assumed", "pushes", len(settings), a.Lag, a.Spread, a.Source, a.AdvanceU)
	}
	like := fit.Shot{AdvanceU: a.AdvanceU, DropU: a.DropU, DropShotU: a.DropShotU, SpeedU: a.SpeedU,
		Drop: settings[0].Drop, Speed: settings[0].Speed}
	o, err := fit.Suppose(run, like, a.Lag, a.Spread)
	if err != nil {
		return Schedule{}, err
	}
	out := Schedule{Spread: a.Spread, Assumed: assumed}
	return out, newDesigner(o, settings).fill(&out, goal)
}

// target is the lag's standard uncertainty the goal comes to: for the next shot the spread takes
// its part; 0 when it takes all.
func (d *designer) target(g Goal) float64 {
	u := math.Inf(1)
	if g.ULag > 0 {
		u = g.ULag
	}
	if g.UNext > 0 {
		u = math.Min(u, math.Sqrt(math.Max(g.UNext*g.UNext-d.Spread2, 0)))
	}
	return u
}

// fill finds number and settings of shots for the schedule.
func (d *designer) fill(out *Schedule, goal Goal) error {
	most := goal.MaxShots
	if most == 0 {
		most = planShots
	}
	goalU := d.target(goal)
	n := d.least(most, func(u, margin float64) bool { return u*margin <= goalU })
	out.Possible = n > 0
	if !out.Possible {
		limit, _ := d.promise(d.best(most))
		limit *= nearLimit
		if math.IsInf(limit, 1) {
			return fmt.Errorf("%w: no more than %d shots of the settings allowed tell the lag\nhint: "+
				"allow a second height or speed, mark the trip place in the picture, or allow more "+
				"shots", ErrBadGoal, most)
		}
		if n = d.least(most, func(u, _ float64) bool { return u <= limit }); n == 0 {
			n = most
		}
	}
	counts := d.best(n)
	out.Shots, out.Batches = n, d.batches(counts)
	out.ULag, _ = d.promise(counts)
	out.UNext, out.Limit = math.Hypot(out.ULag, math.Sqrt(d.Spread2)), d.Limit(d.shots(counts))
	out.Stage = out.Batches
	if stage := d.stage(n); stage < n {
		out.Stage = d.batches(d.best(stage))
	}
	out.Next, out.Supposed = goal.UNext > 0, d.DF == 0
	out.SpreadAlone = out.Next && goal.UNext*goal.UNext <= d.Spread2
	return nil
}

// stage is how many of n shots to make before planning again: half, while the spread is known from
// few shots, so that an overrated spread costs no shots.
func (d *designer) stage(n int) int {
	switch {
	case d.DF == 0:
		return min(n, pilotShots)
	case d.DF >= sureDF || n <= 4:
		return n
	}
	return (n + 1) / 2
}

// batches lists what to shoot, lowest setting first.
func (d *designer) batches(counts []int) []Batch {
	var out []Batch
	for k, n := range counts {
		if n > 0 {
			b := d.cand[k].Batch
			b.Shots = n
			out = append(out, b)
		}
	}
	slices.SortStableFunc(out, func(a, b Batch) int { return a.setting().Compare(b.setting()) })
	return out
}
