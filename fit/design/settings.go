package design

import (
	"math"
	"slices"
	"sort"

	"leadmark/fit"
)

const heightStep = 1.25 // ratio of neighbouring heights looked at

// settingsOf are those the rig allows for this run: heights, measured speeds, or delays of its groups.
func settingsOf(run fit.Run, goal Goal) []Batch {
	maxDelay := firstOf(goal.MaxDelay, run.MaxDelay)
	maxDrop := firstOf(goal.MaxDrop, run.MaxDrop)
	var drops, speeds, delays []float64
	sweeps := map[string][2]float64{}
	for _, shot := range run.Shots {
		delays = append(delays, shot.Delay)
		switch {
		case shot.Drop > 0:
			drops = append(drops, shot.Drop)
		case shot.Speed > 0:
			speeds = append(speeds, shot.Speed)
		default:
			r, ok := sweeps[shot.Group]
			if !ok {
				r = [2]float64{shot.Delay, shot.Delay}
			}
			sweeps[shot.Group] = [2]float64{math.Min(r[0], shot.Delay), math.Max(r[1], shot.Delay)}
		}
	}
	base := slices.Min(delays)
	var out []Batch
	if len(drops) > 0 {
		if maxDrop == 0 {
			maxDrop = math.Max(1.5*slices.Max(drops), slices.Max(drops))
		}
		out = append(out, dropSettings(drops, maxDrop, base, maxDelay)...)
	}
	if len(speeds) > 0 {
		out = append(out, speedSettings(speeds, base)...)
	}
	var names []string
	for name := range sweeps {
		names = append(names, name)
	}
	sort.Strings(names)
	for _, name := range names {
		out = append(out, sweepSettings(name, sweeps[name], maxDelay)...)
	}
	return out
}

func firstOf(a, b float64) float64 {
	if a > 0 {
		return a
	}
	return b
}

// dropSettings are heights from the lowest sensible to the highest allowed, those shot before among
// them, with the delay in use and with the longest allowed.
func dropSettings(shot []float64, highestAllowed, base, maxDelay float64) []Batch {
	low := math.Min(fit.LowDrop, highestAllowed)
	heights := append([]float64{round(low, 1000), highestAllowed}, shot...)
	for h := low * heightStep; h < highestAllowed/math.Sqrt(heightStep); h *= heightStep {
		heights = append(heights, round(h, 100))
	}
	sort.Float64s(heights)
	var out []Batch
	last := 0.0
	for _, h := range heights {
		if h == last || h > highestAllowed {
			continue
		}
		last = h
		out = append(out, Batch{Drop: h, Delay: base})
		if maxDelay > base {
			out = append(out, Batch{Drop: h, Delay: maxDelay})
		}
	}
	return out
}

// speedSettings go from half the slowest to one and a half times the fastest.
func speedSettings(shot []float64, base float64) []Batch {
	var out []Batch
	lo, hi := slices.Min(shot)/2, 1.5*slices.Max(shot)
	last := 0.0
	for k := 0; k <= 8; k++ {
		if v := round(lo*math.Pow(hi/lo, float64(k)/8), 10); v != last {
			out, last = append(out, Batch{Speed: v, Delay: base}), v
		}
	}
	return out
}

// sweepSettings go from no delay to the longest allowed; where none is stated, half the sweep
// beyond it, or 20 ms for a first step.
func sweepSettings(name string, r [2]float64, maxDelay float64) []Batch {
	lo, hi := math.Min(r[0], 0), r[1]+(r[1]-r[0])/2
	if r[0] == r[1] {
		hi = r[0] + 0.02
	}
	if maxDelay > 0 {
		hi = maxDelay
	}
	if r[0] < lo || lo < 0 {
		lo = r[0]
	}
	var out []Batch
	last := math.NaN()
	for k := 0; k <= 8; k++ {
		if d := math.Round((lo+(hi-lo)*float64(k)/8)*2000) / 2000; d != last && (maxDelay == 0 || d <= maxDelay) {
			out, last = append(out, Batch{Group: name, Delay: d}), d
		}
	}
	return out
}

// round goes to the nearest multiple of 1/parts, at least one.
func round(x, parts float64) float64 { return math.Max(math.Round(x*parts), 1) / parts }
