package fit

import (
	"fmt"
	"math"
	"sort"
)

const (
	planShots    = 500  // at most, where the goal says nothing
	pilotShots   = 8    // of a first run, before its own spread is known
	sureDF       = 40   // degrees of freedom from which the spread needs no further stage
	mostSettings = 6    // more are a nuisance to set up
	fewSettings  = 1.01 // a setting is dropped when the others reach its uncertainty up to this factor
	nearLimit    = 1.05 // shots that come this near to what no number of shots can better are enough
)

// Plan says what to shoot next to bring the lag's standard uncertainty (or the next shot's) to a goal. Added shots enter the
// information matrix of the fitted model at the estimated spread; the settings and their numbers are those with the least variance of the
// lag for their total (c-optimal exact design: Fedorov 1972; exchange of single shots), and the total is the least that keeps the
// promise, Kenward and Roger's addition included. With no shots in the run it plans a first one on goal.Assume. Shoot Stage and plan
// again until Reached.
//
// It returns ErrBadGoal, or an error of Lag; a run of one or two shots counts as none.
func Plan(run Run, goal Goal) (Schedule, error) {
	if err := checkGoal(goal); err != nil {
		return Schedule{}, err
	}
	if len(run.Shots) < minShots {
		return first(run, goal)
	}
	if err := check(run); err != nil {
		return Schedule{}, err
	}
	s := newLayout(run).review()
	know := s.identify()
	d := s.designer(goal)
	out := Schedule{Spread: math.Sqrt(s.best.t)}
	if know.lag {
		out.ULagNow = math.Sqrt(s.best.cov[0] + math.Max(s.best.adjust[0], 0)/s.best.info)
	}
	if len(d.cand) == 0 {
		return out, fmt.Errorf("%w: the run has neither drops nor speeds nor a swept delay to go on with\nhint: plan a first run of drops instead", ErrBadGoal)
	}
	d.df = 2 * s.best.info
	if u := d.target(goal); know.lag && out.ULagNow*margin(d.df) <= u {
		out.Reached, out.Possible, out.ULag = true, true, out.ULagNow
		out.UNext = math.Hypot(out.ULag, out.Spread)
		out.Text = fmt.Sprintf("stop: the lag's standard uncertainty is %.2g ms, which the goal asks for", 1e3*out.ULagNow)
		return out, nil
	}
	d.df = 2 * s.best.info
	return out, d.fill(&out, goal)
}

func checkGoal(g Goal) error {
	if !(g.ULag > 0 || g.UNext > 0) {
		return fmt.Errorf("%w: it names no uncertainty to reach\nhint: state the standard uncertainty wanted of the lag, such as 0.2 ms", ErrBadGoal)
	}
	for _, v := range append([]float64{g.ULag, g.UNext, g.MaxDrop, g.MaxDelay, float64(g.MaxShots), g.Assume.Lag, g.Assume.Spread,
		g.Assume.AdvanceU, g.Assume.DropU, g.Assume.DropShotU, g.Assume.SpeedU}, g.Assume.Speeds...) {
		if !(v >= 0) || math.IsInf(v, 0) {
			return fmt.Errorf("%w: one of its numbers is %g; all must be nil or positive", ErrBadGoal, v)
		}
	}
	return nil
}

// target is the lag's standard uncertainty the goal comes to: for the next shot the spread takes its part; 0 when it takes all.
func (d *designer) target(g Goal) float64 {
	u := math.Inf(1)
	if g.ULag > 0 {
		u = g.ULag
	}
	if g.UNext > 0 {
		u = math.Min(u, math.Sqrt(math.Max(g.UNext*g.UNext-d.t, 0)))
	}
	return u
}

// margin is what is asked beyond the goal while the scatter is known from few shots: who stops as soon as the goal is met stops more often
// after a run that scatters little by chance.
func margin(df float64) float64 { return 1 + 1/(2*math.Max(df, 1)) }

// fill finds number and settings of shots and writes the schedule.
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
			return fmt.Errorf("%w: no more than %d shots of the settings allowed tell the lag\nhint: allow a second height or speed, mark the trip place in the picture, or allow more shots", ErrBadGoal, most)
		}
		if n = d.least(most, func(u, _ float64) bool { return u <= limit }); n == 0 {
			n = most
		}
	}
	counts := d.best(n)
	out.Shots, out.Batches = n, d.batches(counts)
	out.ULag, _ = d.promise(counts)
	out.UNext, out.Limit = math.Hypot(out.ULag, math.Sqrt(d.t)), d.limit(counts)
	out.Stage = out.Batches
	if stage := d.stage(n); stage < n {
		out.Stage = d.batches(d.best(stage))
	}
	out.Text = d.text(*out, goal)
	return nil
}

// stage is how many of n shots to make before planning again: half, while the spread is known from few shots, so that an
// overrated spread costs no shots.
func (d *designer) stage(n int) int {
	switch {
	case d.df == 0:
		return min(n, pilotShots)
	case d.df >= sureDF || n <= 4:
		return n
	}
	return (n + 1) / 2
}

// least is the smallest number of shots up to most whose promise is good enough, 0 when none is.
func (d *designer) least(most int, enough func(u, margin float64) bool) int {
	lo, hi := 0, 1
	for !enough(d.promise(d.best(hi))) {
		if hi >= most {
			return 0
		}
		lo, hi = hi, min(2*hi, most)
	}
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; enough(d.promise(d.best(mid))) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}

// batches lists what to shoot, lowest setting first.
func (d *designer) batches(counts []int) []Batch {
	var out []Batch
	for k, n := range counts {
		if n > 0 {
			b := d.cand[k].Batch
			b.Shots = n
			b.Text = b.say()
			out = append(out, b)
		}
	}
	sort.SliceStable(out, func(i, j int) bool {
		a, b := out[i], out[j]
		switch {
		case a.Drop != b.Drop:
			return a.Drop < b.Drop
		case a.Speed != b.Speed:
			return a.Speed < b.Speed
		case a.Group != b.Group:
			return a.Group < b.Group
		}
		return a.Delay < b.Delay
	})
	return out
}

func (b Batch) say() string {
	often := fmt.Sprintf("%d times", b.Shots)
	if b.Shots == 1 {
		often = "once"
	}
	text := fmt.Sprintf("push the ruler %s at the speed of group %q", often, b.Group)
	switch {
	case b.Drop > 0:
		text = fmt.Sprintf("drop the ruler %s from %.4g mm", often, 1e3*b.Drop)
	case b.Speed > 0:
		text = fmt.Sprintf("push the ruler %s at about %.2g m/s", often, b.Speed)
	case b.Group == "":
		text = fmt.Sprintf("push the ruler %s at the same speed as before", often)
	}
	if b.Delay != 0 {
		text += fmt.Sprintf(" with %.3g ms of added delay", 1e3*b.Delay)
	}
	return text
}

// text says it all.
func (d *designer) text(o Schedule, goal Goal) string {
	text := ""
	for i, b := range o.Batches {
		if i > 0 {
			text += ", "
		}
		text += b.Text
	}
	text += fmt.Sprintf(": the lag's standard uncertainty then is about %.2g ms", 1e3*o.ULag)
	if goal.UNext > 0 {
		text += fmt.Sprintf(", the next shot's %.2g ms", 1e3*o.UNext)
	}
	switch {
	case !o.Possible && goal.UNext > 0 && goal.UNext*goal.UNext <= d.t:
		text += fmt.Sprintf("; the goal is out of reach: the spread alone is %.2g ms, and no number of shots makes the next one surer", 1e3*math.Sqrt(d.t))
	case !o.Possible:
		text += fmt.Sprintf("; the goal is out of reach within these limits: most of what is left comes from %s", limitWords[o.Limit])
	}
	switch {
	case sum(o.Stage) < o.Shots:
		text += fmt.Sprintf("; shoot %d of them first and plan again, as the spread is not known well yet, and stop as soon as the goal is reached", sum(o.Stage))
	case d.df == 0:
		text += "; then plan again, as the spread is not known yet"
	case o.Possible:
		text += "; then the goal is reached: stop"
	}
	if o.Assumed != "" {
		text += ". Assumed: " + o.Assumed
	}
	return text
}

func sum(list []Batch) (n int) {
	for _, b := range list {
		n += b.Shots
	}
	return n
}

// limitWords names a budget's source and what would lower it.
var limitWords = map[string]string{
	"reading":      "reading the ruler: bring the camera nearer or light the graduations better",
	"spread":       "the rig's own spread: more shots than allowed would be needed",
	"drop-height":  "the stated heights: measure them better, or use more of them",
	"letting-go":   "letting go: use a release",
	"tape":         "the heights' common error: measure from the beam with a better tape",
	"gravity":      "local gravity: state the latitude and the height above the sea",
	"speed":        "the measured speeds: measure them better, or drop the ruler",
	"speed-repeat": "how the speed repeats: use a spring or a drop",
	"trip-place":   "the trip place: mark it better, or shoot at a second speed",
	"weights":      "the few shots",
}
