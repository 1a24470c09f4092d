package onelag

import (
	"fmt"
	"math"
	"sort"
)

func (s Run) orderCheck(c clock) Check {
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

func (s Run) pauseCheck(c clock) Check {
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
		if s.Weight[i] > 0 && after[i] > 0 {
			count++
		} else if s.Weight[i] > 0 {
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

func (s Run) restCheck(c clock) Check {
	const name = "rest"
	if !c.timed {
		return untested(name, noTimes)
	}
	w, sum, n := make([]float64, len(c.gap)), 0.0, 0.0
	for i, g := range c.gap {
		if w[i] = math.Log2(math.Max(g, 0.1)); !math.IsNaN(w[i]) && s.Weight[i] > 0 {
			sum, n = sum+w[i], n+1
		}
	}
	scatter := 0.0
	for i := range w {
		if w[i] -= sum / n; math.IsNaN(w[i]) {
			w[i] = 0 // the first shot has no shot before it
		}
		if s.Weight[i] > 0 {
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

func (s Run) settingCheck() Check {
	const name = "setting"
	count := map[string]int{}
	for i, shot := range s.Shots {
		if s.Weight[i] > 0 {
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
	if len(labels) < 2 || len(labels) > len(s.R)/3 {
		return untested(name, "too few shots share their exposure settings")
	}
	var cols [][]float64
	for _, label := range labels[1:] {
		w := make([]float64, len(s.R))
		for i, shot := range s.Shots {
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
