package onelag

import (
	"math"
	"sort"

	"leadmark/fit/stat"
)

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

func clockOf(shots []Shot) clock {
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
