package planprint

import (
	"fmt"

	"leadmark/calib/plan"
	"leadmark/cmd/leadmark/report/phrase"
)

// Section is a part of the printed plan.
type Section struct {
	Title string
	Lines []phrase.Line
}

// Sections is the plan in words, part by part, as the terminal and the page print it.
func Sections(p plan.Plan) []Section {
	all := []Section{{"Where it will be", reachLines(p)}}
	if p.Moment != nil {
		all = append(all, Section{"The moment", momentLines(p)})
	}
	if p.Framing != nil {
		all = append(all, Section{"The picture", framingLines(p)}, Section{"Focus", focusLines(p)})
	}
	if p.Light != nil {
		all = append(all, Section{"Light", lightLines(p)})
	}
	if p.Backdrop != nil {
		all = append(all, Section{"Backdrop", backdropLines(*p.Backdrop)})
	}
	if p.Chance != nil {
		all = append(all, Section{"Chances, each trip", chanceLines(p)})
	}
	if len(p.Changes) > 0 {
		all = append(all, Section{"What changes the chance most", changeLines(p)})
	}
	return append(all, Section{"Planned from", fromLines(p)})
}

func reachLines(p plan.Plan) []phrase.Line {
	r, l := p.Reach, p.Lead
	past := func(x [2]float64) string { return spanText(x[0], x[1]) }
	return []phrase.Line{
		line("lead", "Nose past the trip point", aboutMM(l.Mean, l.SD),
			fmt.Sprintf("on average; %s in 95 %% of trips", past(l.Interval95))),
		line("reach_along", "Whole body, along", past(r.Along),
			fmt.Sprintf("with the two below, together in %s of trips", chanceText(r.Probability))),
		line("reach_up", "up and down", past(r.Up), "from the middle of the opening, against gravity"),
		line("reach_depth", "toward and away from the camera", "± "+lengthText(r.Depth[1]),
			"from the trip point's plane"),
	}
}

func momentLines(p plan.Plan) []phrase.Line {
	m := *p.Moment
	lines := []phrase.Line{line("moment_beam", "Beam before the place", lengthText(m.TripBefore),
		fmt.Sprintf("with the delay as it is (%s): then the nose is at the place on average, ± %s (one "+
			"standard deviation)", phrase.MS.Stated(p.Delay), lengthText(m.SDNow)))}
	if m.StandBack > 0 {
		return append(lines, line("moment_back", "Or the beam back by", lengthText(m.StandBack),
			fmt.Sprintf("the rig is too slow for %s past the beam where it stands: without any added delay "+
				"the beam must stand back by this much; the nose is then between %s in 95 %% of trips",
				lengthText(m.At), pastSpan(m.Interval95))))
	}
	return append(lines, line("moment_delay", "Or an added delay of", durationText(m.Delay),
		fmt.Sprintf("with the beam where it stands; the nose is then between %s in 95 %% of trips, ± %s",
			pastSpan(m.Interval95), lengthText(m.SD))))
}

func pastSpan(x [2]float64) string { return lengthText(x[0]) + " and " + lengthText(x[1]) }

func backdropLines(b plan.Backdrop) []phrase.Line {
	return []phrase.Line{line("backdrop", "For clean cutting out", b.Choose,
		fmt.Sprintf("the subject's colours lie %.0f from blue and %.0f from green (CIE 1976 colour "+
			"difference, the nearest tenth)", b.Blue, b.Green))}
}
