package planprint

import (
	"fmt"
	"sort"

	"leadmark/calib/plan"
	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/subject"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/fit/unit"
)

// fromLines says what the plan rests on: the lag, and the subject's values with their sources.
func fromLines(p plan.Plan) []phrase.Line {
	l, s := p.Request.Lag, p.Request.Subject
	note := "measured; spread " + msSpread(l)
	if l.Assumed {
		note = "ASSUMED, not measured; spread " + msSpread(l)
	}
	lines := []phrase.Line{line("lag", "Lag", unit.Quantity{Value: l.Mean, U: max(l.MeanU, l.Spread/10),
		Unit: unit.Millisecond}.At(), note)}
	if p.Delay > 0 {
		lines = append(lines, line("delay", "Added delay", phrase.MS.Stated(p.Delay), ""))
	}
	lines = append(lines, line("draws", "Trips drawn", fmt.Sprint(p.Request.Options.Draws),
		fmt.Sprintf("from seed %d; the probability of the reach is then good to ± %s", p.Request.Options.Seed,
			percentSmall(p.Reach.ProbabilityU))))
	keys := make([]string, 0, len(s.Sources))
	for k := range s.Sources {
		keys = append(keys, k)
	}
	sort.Slice(keys, func(i, j int) bool { return settingIndex(keys[i]) < settingIndex(keys[j]) })
	for _, k := range keys {
		lines = append(lines, line("source", k, s.Value(k), s.Sources[k]))
	}
	return lines
}

func msSpread(l predict.Law) string {
	return unit.Plain(unit.Significant(l.Spread, 2), unit.Millisecond)
}

func settingIndex(key string) int {
	for i, s := range subject.Settings() {
		if s.Key == key {
			return i
		}
	}
	return -1
}
