package report

import (
	"fmt"
	"math"
	"sort"

	"leadmark/calib/plan"
	"leadmark/calib/plan/light"
	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/subject"
	"leadmark/calib/rig"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/fit/unit"
)

// PlanSection is a part of the printed plan.
type PlanSection struct {
	Title string
	Lines []phrase.Line
}

// PlanHead is the plan in one sentence.
func PlanHead(p plan.Plan) phrase.Headline {
	r := p.Reach
	h := phrase.Headline{Before: subjectName(p) + ": when the flash fires, its nose is",
		Value: aboutMM(p.Lead.Mean, p.Lead.SD) + " past the trip point", After: ""}
	if f := p.Framing; f != nil {
		h.After = fmt.Sprintf("on average; a field of %s x %s holds the whole body in %s of trips.",
			lengthText(f.Field[0]), lengthText(f.Field[1]), chanceText(p.Chance.InField.P))
		return h
	}
	h.After = fmt.Sprintf("on average; a box %s long, %s high and %s deep holds the whole body in %s of trips.",
		lengthText(r.Along[1]-r.Along[0]), lengthText(r.Up[1]-r.Up[0]), lengthText(r.Depth[1]-r.Depth[0]),
		chanceText(r.Probability))
	return h
}

// PlanSettings is what to set, in one sentence; "" where the rig's description does not suffice.
func PlanSettings(p plan.Plan) string {
	if p.Framing == nil {
		return ""
	}
	s := "Set " + cameraSettings(p)
	if p.Light != nil {
		for _, h := range p.Light.Heads {
			if h.Power > 0 {
				s += "; " + h.Name + " " + rig.PowerText(h.Power)
			}
		}
	}
	f := p.Framing
	return s + fmt.Sprintf("; sensor %s from the trip point's plane, aimed %s past the trip point and %s. A "+
		"keeper in %s of trips.", lengthText(f.Optics.SensorDistance()), lengthText(f.Aim[0]), aimHeight(*f),
		chanceOfKeeper(p))
}

// cameraSettings is aperture, ISO, shutter time and delay.
func cameraSettings(p plan.Plan) string {
	set := "f/" + plainNumber(plan.MarkedFNumber(p.Focus.Optics.FNumber))
	if l := p.Light; l != nil {
		set += fmt.Sprintf(", ISO %.0f", light.MarkedISO(l.ISO))
		if l.Exposure > 0 {
			set += ", " + shutterText(l.Exposure)
		}
	}
	if p.Delay > 0 {
		set += ", added delay " + phrase.MS.Stated(p.Delay)
	}
	return set
}

func subjectName(p plan.Plan) string {
	if n := p.Request.Subject.Name; n != "" {
		return n
	}
	return "The subject"
}

// PlanPage is the plan in words, part by part, as the terminal and the page print it.
func PlanPage(p plan.Plan) []PlanSection {
	all := []PlanSection{{"Where it will be", reachLines(p)}}
	if p.Moment != nil {
		all = append(all, PlanSection{"The moment", momentLines(p)})
	}
	if p.Framing != nil {
		all = append(all, PlanSection{"The picture", framingLines(p)}, PlanSection{"Focus", focusLines(p)})
	}
	if p.Light != nil {
		all = append(all, PlanSection{"Light", lightLines(p)})
	}
	if p.Backdrop != nil {
		all = append(all, PlanSection{"Backdrop", backdropLines(*p.Backdrop)})
	}
	if p.Chance != nil {
		all = append(all, PlanSection{"Chances, each trip", chanceLines(p)})
	}
	if len(p.Changes) > 0 {
		all = append(all, PlanSection{"What changes the chance most", changeLines(p)})
	}
	return append(all, PlanSection{"Planned from", fromLines(p)})
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

func framingLines(p plan.Plan) []phrase.Line {
	f, c := *p.Framing, *p.Chance
	lines := []phrase.Line{
		line("field", "Field", lengthText(f.Field[0])+" x "+lengthText(f.Field[1]),
			f.Orientation()+"; the body is "+chanceText(f.Fill)+" of its width"),
		line("magnification", "Magnification", magnificationText(f.Optics.Magnification),
			fmt.Sprintf("%s from the sensor plane, %s from the lens (thin lens)",
				lengthText(f.Optics.SensorDistance()), lengthText(f.Optics.Distance()))),
		line("aim", "Aim the middle at", lengthText(f.Aim[0])+" past the trip point", aimHeight(f)+"; "+exitSeen(f)),
		line("clips", "It cuts the body off in", chanceText(1-c.InField.P),
			"of trips"+clipText(c.Clips[0].P, c.Clips[1].P, c.Clips[2].P, c.Clips[3].P)),
	}
	return lines
}

// aimHeight says how high the middle is aimed; less than a hundredth of the field's height is level.
func aimHeight(f plan.Framing) string {
	up := f.Aim[1]
	switch {
	case math.Abs(up) < f.Field[1]/100:
		return "level with the middle of the opening"
	case up > 0:
		return lengthText(up) + " above the middle of the opening"
	}
	return lengthText(-up) + " below the middle of the opening"
}

func exitSeen(f plan.Framing) string {
	if left := f.Aim[0] - f.Field[0]/2; left > 0 {
		return "the exit is " + lengthText(left) + " outside the picture"
	}
	return "the exit is in the picture"
}

func clipText(behind, ahead, below, above float64) string {
	if max(behind, ahead, below, above) < 0.0005 {
		return ""
	}
	return fmt.Sprintf(": behind %s, ahead %s, below %s, above %s", chanceText(behind), chanceText(ahead),
		chanceText(below), chanceText(above))
}

func focusLines(p plan.Plan) []phrase.Line {
	f := *p.Focus
	why := "balances defocus, diffraction and the flash's length"
	if f.Stated {
		why = "as asked for"
	}
	far := "without end"
	if !math.IsInf(f.Far, 0) {
		far = lengthText(-f.Far)
	}
	lines := []phrase.Line{
		line("f_number", "Aperture", "f/"+plainNumber(plan.MarkedFNumber(f.Optics.FNumber)),
			fmt.Sprintf("%s; f/%s at work, with the magnification's loss of light", why,
				plainNumber(f.Optics.EffectiveFNumber()))),
		line("depth", "In focus", "from "+lengthText(f.Near)+" before to "+far+" behind",
			"the plane of the trip point; "+depthNeeded(p)),
	}
	b := f.Blur
	parts := fmt.Sprintf("defocus %s, diffraction %s", um(b.Defocus), um(b.Diffraction))
	if b.Frozen {
		parts = "motion " + um(b.Motion) + ", " + parts
	} else {
		parts += ", motion not known"
	}
	if f.PixelPitch > 0 {
		parts += ", pixel " + um(b.Pixel)
	}
	total := um(b.Total)
	if f.PixelPitch > 0 {
		total += " = " + plainNumber(roundTo(b.Total/f.PixelPitch, 2)) + " px"
	}
	return append(lines,
		line("blur", "Blur on the sensor", total, "in the middle trip: "+parts),
		line("print", "On a print "+lengthText(f.PrintLong),
			unit.Plain(roundTo(b.Total*f.Print, 2), unit.Millimetre),
			fmt.Sprintf("of blur; defocus and motion each count as sharp up to 0.2 mm there (common "+
				"practice), %s on the sensor", um(f.Limit))))
}

func depthNeeded(p plan.Plan) string {
	d := lengthText(p.Focus.Depth)
	if p.Request.Subject.FocusOn == subject.FocusNose {
		return "the nose is within ± " + d + " in " + chanceText(p.Request.Options.Probability) + " of trips"
	}
	return "the whole body is within ± " + d + " in " + chanceText(p.Request.Options.Probability) + " of trips"
}

func chanceLines(p plan.Plan) []phrase.Line {
	c := *p.Chance
	lines := []phrase.Line{
		line("in_field", "Whole in the picture", chanceText(c.InField.P), ""),
		line("in_focus", "In focus", chanceText(c.InFocus.P),
			map[bool]string{true: "the nose", false: "the whole body"}[p.Request.Subject.FocusOn == subject.FocusNose]),
	}
	if c.Frozen == nil {
		return append(lines, line("frozen", "Frozen", "", "the flash's duration is not known"),
			line("keeper", "A keeper", "at most "+chanceText(c.AtMost.P),
				"whole and in focus; whether frozen is not known"))
	}
	lines = append(lines, line("frozen", "Frozen", chanceText(c.Frozen.P),
		"motion blurs by less than "+um(p.Focus.Limit)),
		line("keeper", "A keeper", chanceText(c.Keeper.P), "all three"))
	return append(lines, tripsLine(p))
}

func tripsLine(p plan.Plan) phrase.Line {
	l := phrase.Line{Key: "trips", Label: "Trips for one keeper"}
	for i, t := range p.Trips {
		if t.N == 0 {
			l.Note = "no number of trips brings one: change the set first"
			return l
		}
		if i > 0 {
			l.Value += ", "
		}
		l.Value += tripsText(t.N)
	}
	l.Note = "with 50, 90 and 95 % confidence"
	return l
}

// tripsText prints a number of trips; of many, the two digits that a small chance supports.
func tripsText(n int) string {
	if n < 100 {
		return fmt.Sprint(n)
	}
	return fmt.Sprintf("about %.0f", roundTo(float64(n), 2))
}

func changeLines(p plan.Plan) []phrase.Line {
	var lines []phrase.Line
	for _, c := range p.Changes {
		lines = append(lines, line("change", c.Text, chanceText(c.Keeper), signed(c.Gain)))
	}
	return lines
}

func signed(gain float64) string {
	n := math.Round(gain * 100)
	switch {
	case n == 1:
		return "1 point more"
	case n == -1:
		return "1 point less"
	case n > 0:
		return fmt.Sprintf("%.0f points more", n)
	case n < 0:
		return fmt.Sprintf("%.0f points less", -n)
	}
	return "no difference"
}

func backdropLines(b plan.Backdrop) []phrase.Line {
	return []phrase.Line{line("backdrop", "For clean cutting out", b.Choose,
		fmt.Sprintf("the subject's colours lie %.0f from blue and %.0f from green (CIE 1976 colour "+
			"difference, the nearest tenth)", b.Blue, b.Green))}
}

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

func msSpread(l predict.Law) string { return unit.Plain(roundTo(l.Spread, 2), unit.Millisecond) }

func settingIndex(key string) int {
	for i, s := range subject.Settings() {
		if s.Key == key {
			return i
		}
	}
	return -1
}
