package fit

import (
	"fmt"
	"math"
	"sort"

	"leadmark/fit/stat"
)

// checks runs every test and holds them together to CheckLevel. Empty where the lag was not told:
// then nothing tells a changing lag from a changing advance.
func (s *solution) checks(know told) []Check {
	if !know.lag || !know.spread {
		return nil
	}
	clock := s.clock()
	list := []Check{s.orderCheck(clock), s.pauseCheck(clock), s.restCheck(clock), s.settingCheck(), s.twoLagsCheck()}
	holm(list)
	for i := range list {
		if c := &list[i]; c.Tested && !c.Alarm {
			c.Text = fmt.Sprintf("%s (chance of as much in a run with one lag: %s)", nothing[c.Name], ChanceText(c.P))
		}
	}
	return list
}

// nothing is what a check says when it finds nothing.
var nothing = map[string]string{
	"order":    "no drift over the shooting order shows",
	"pause":    "shots after a pause do not stand out",
	"rest":     "the lag does not show to depend on the time since the shot before",
	"setting":  "no difference between exposure settings shows",
	"two-lags": "the shots look like one population",
}

// holm sets thresholds and alarms: the smallest P against level/m, the next against level/(m-1),
// until one passes.
func holm(list []Check) {
	var order []int
	for i, c := range list {
		if c.Tested {
			order = append(order, i)
		}
	}
	sort.SliceStable(order, func(a, b int) bool { return list[order[a]].P < list[order[b]].P })
	alarm := true
	for rank, i := range order {
		c := &list[i]
		c.Threshold = CheckLevel / float64(len(order)-rank)
		alarm = alarm && c.P <= c.Threshold
		c.Alarm = alarm
	}
}

// clock is what is known of when the shots were made.
type clock struct {
	timed bool      // every shot has its time
	order []float64 // place in the shooting order, 0 to 1
	gap   []float64 // s since the shot before; NaN for the first
	pause float64   // s, from which a gap counts as a pause
}

const (
	pauseTimes = 3.0  // a pause is a gap of three usual ones,
	pauseLeast = 20.0 // and of 20 s: rigs fall asleep no sooner
)

func (s *solution) clock() clock {
	shots := s.run.Shots
	n := len(shots)
	c := clock{timed: true, order: make([]float64, n), gap: make([]float64, n)}
	place := make([]int, n)
	for i, shot := range shots {
		place[i] = i
		c.timed = c.timed && shot.HasTime
	}
	if c.timed {
		sort.SliceStable(place, func(a, b int) bool { return shots[place[a]].Time < shots[place[b]].Time })
	}
	var gaps []float64
	for k, i := range place {
		c.order[i] = float64(k) / math.Max(float64(n-1), 1)
		c.gap[i] = math.NaN()
		if c.timed && k > 0 {
			c.gap[i] = shots[i].Time - shots[place[k-1]].Time
			gaps = append(gaps, c.gap[i])
		}
	}
	if len(gaps) > 0 {
		c.pause = math.Max(pauseTimes*stat.Select(gaps, len(gaps)/2), pauseLeast)
	}
	return c
}

func (s *solution) orderCheck(c clock) Check {
	const name = "order"
	e, ok := s.effects([][]float64{c.order})
	if !ok {
		return untested(name, "the shooting order cannot be told from the settings: mix heights, speeds "+
			"or delays while shooting")
	}
	k := e.check(name)
	k.Text = fmt.Sprintf("the lag drifts by %+.2g ms from the first shot to the last (standard "+
		"uncertainty %.1g ms): batteries or flash tiring, the rig warming, or the ruler's guide moving; "+
		"put in fresh batteries, fire a few blanks first, and mix the heights so that a drift does not "+
		"look like a speed", 1e3*k.Effect, 1e3*k.EffectU)
	return k
}

const noTimes = "the frames do not say when they were made"

func (s *solution) pauseCheck(c clock) Check {
	const name = "pause"
	if !c.timed {
		return untested(name, noTimes)
	}
	after, rest := make([]float64, len(c.gap)), 0
	count := 0
	for i, g := range c.gap {
		if math.IsNaN(g) || g > c.pause {
			after[i] = 1
		}
		if s.weight[i] > 0 && after[i] > 0 {
			count++
		} else if s.weight[i] > 0 {
			rest++
		}
	}
	if count < 2 || rest < 3 {
		return untested(name, fmt.Sprintf("fewer than two shots were made after a pause (of more than "+
			"%.0f s)", c.pause))
	}
	e, ok := s.effects([][]float64{after})
	if !ok {
		return untested(name, "the pauses fall together with the settings: pause within a setting too")
	}
	k := e.check(name)
	k.Text = fmt.Sprintf("the first shot after a pause lags %+.2g ms behind the others (standard "+
		"uncertainty %.1g ms): keep camera and flash awake (automatic power-off off), or fire a blank "+
		"after each pause", 1e3*k.Effect, 1e3*k.EffectU)
	return k
}

func (s *solution) restCheck(c clock) Check {
	const name = "rest"
	if !c.timed {
		return untested(name, noTimes)
	}
	w, sum, n := make([]float64, len(c.gap)), 0.0, 0.0
	for i, g := range c.gap {
		if w[i] = math.Log2(math.Max(g, 0.1)); !math.IsNaN(w[i]) && s.weight[i] > 0 {
			sum, n = sum+w[i], n+1
		}
	}
	scatter := 0.0
	for i := range w {
		if w[i] -= sum / n; math.IsNaN(w[i]) {
			w[i] = 0 // the first shot has no shot before it
		}
		if s.weight[i] > 0 {
			scatter += w[i] * w[i] / n
		}
	}
	if n < 3 || !(scatter > 0.05) {
		return untested(name, "all shots came after nearly the same time")
	}
	e, ok := s.effects([][]float64{w})
	if !ok {
		return untested(name, "the times between shots fall together with the settings")
	}
	k := e.check(name)
	k.Text = fmt.Sprintf("the lag changes by %+.2g ms with each doubling of the time since the shot "+
		"before (standard uncertainty %.1g ms): let the flash recharge fully, and keep to one rhythm in "+
		"the run and with the animal", 1e3*k.Effect, 1e3*k.EffectU)
	return k
}

func (s *solution) settingCheck() Check {
	const name = "setting"
	count := map[string]int{}
	for i, shot := range s.run.Shots {
		if s.weight[i] > 0 {
			count[shot.Setting]++
		}
	}
	if len(count) < 2 {
		return untested(name, "all shots were made with the same exposure settings")
	}
	var labels []string
	for label, n := range count {
		if n >= 2 {
			labels = append(labels, label)
		}
	}
	sort.Strings(labels)
	if len(labels) < 2 || len(labels) > len(s.r)/3 {
		return untested(name, "too few shots share their exposure settings")
	}
	var cols [][]float64
	for _, label := range labels[1:] {
		w := make([]float64, len(s.r))
		for i, shot := range s.run.Shots {
			if shot.Setting == label {
				w[i] = 1
			}
		}
		cols = append(cols, w)
	}
	e, ok := s.effects(cols)
	if !ok {
		return untested(name, "exposure settings and heights (or speeds, delays) changed together: "+
			"shoot each setting at every height")
	}
	k := e.check(name)
	k.Text = "the lag differs between exposure settings"
	if len(cols) == 1 {
		k.Text = fmt.Sprintf("%s (%q %+.2g ms from %q, standard uncertainty %.1g "+
			"ms)", k.Text, labels[1], 1e3*k.Effect, labels[0], 1e3*k.EffectU)
	}
	k.Text += ": calibrate with the settings used for the animal, and each other setting as a run of its own"
	return k
}
