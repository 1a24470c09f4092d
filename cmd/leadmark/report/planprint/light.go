package planprint

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"leadmark/calib/plan"
	"leadmark/calib/plan/light"
	"leadmark/calib/rig"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/fit/unit"
)

func lightLines(p plan.Plan) []phrase.Line {
	l := *p.Light
	var lines []phrase.Line
	if l.FNumber > 0 {
		lines = append(lines, exposureLine(p))
	}
	for i, h := range l.Heads {
		lines = append(lines, headLine(h, p.Request.Rig.Flash[i]))
		if f := freezeText(h); f != "" && p.Focus.Blur.Frozen {
			lines = append(lines, line("freeze", "  to freeze", rig.PowerText(h.Freeze), f))
		}
	}
	lines = append(lines, shutterLine(p))
	if l.AmbientBelow != nil {
		lines = append(lines, line("ambient", "Light at the set", stopsText(*l.AmbientBelow)+" below the flash",
			ghostText(*l.AmbientBelow, l.Streak)))
	}
	return append(lines, energyLines(l, p.Trips)...)
}

func exposureLine(p plan.Plan) phrase.Line {
	l := *p.Light
	note := "at f/" + plainNumber(plan.MarkedFNumber(p.Focus.Optics.FNumber)) +
		"; the heads on the subject together give " + overText(l.Over)
	if own := float64(p.Request.Rig.Camera.ISO); p.Request.Options.ISO == 0 && own > 0 && l.ISO > 1.5*own {
		note += fmt.Sprintf("; above the rig's ISO %.0f, for a lower power and so a shorter flash", own)
	}
	return line("iso", "ISO", fmt.Sprintf("%.0f", light.MarkedISO(l.ISO)), note)
}

func overText(over float64) string {
	switch r := math.Round(over * 10); {
	case r == 0:
		return "the right exposure"
	case r > 0:
		return stopsText(over) + " too much"
	}
	return stopsText(-over) + " too little"
}

func headLine(h light.Head, f rig.Head) phrase.Line {
	line := phrase.Line{Key: "flash", Label: h.Name + " (" + lightsText(h.Lights) + ")"}
	if len(h.Missing) > 0 {
		line.Note = "the rig does not state " + strings.Join(h.Missing, ", ")
		return line
	}
	line.Value = rig.PowerText(h.Power)
	if h.Flash != nil || h.Lights != rig.Backdrop { // how long a backdrop is lit blurs nothing
		line.Value += ", " + flashText(h.Flash)
	}
	line.Note = "at " + lengthText(f.Distance)
	if h.Lights != rig.Subject {
		line.Note += ", " + ratioText(h.Ratio) + " the light on the subject"
	} else {
		line.Note += ", alone good for f/" + plainNumber(h.FNumber)
	}
	if f.Power > 0 && math.Abs(math.Log2(f.Power/h.Power)) > 0.02 {
		line.Note += "; now set to " + rig.PowerText(f.Power)
	}
	return line
}

func lightsText(l rig.Lights) string {
	if l == rig.Subject {
		return "on the subject"
	}
	return string(l)
}

func flashText(f *light.Flash) string {
	switch {
	case f == nil:
		return "duration not known"
	case f.Bound:
		return fmt.Sprintf("t0.5 %s, t0.1 at most %s", microText(f.T05), microText(unit.Significant(f.T01, 2)))
	}
	return "t0.1 " + microText(f.T01)
}

func microText(s float64) string { return unit.Plain(s, unit.Microsecond) }

func ratioText(stops float64) string {
	switch r := math.Round(stops * 10); {
	case r == 0:
		return "as bright as"
	case r > 0:
		return stopsText(stops) + " over"
	}
	return stopsText(-stops) + " under"
}

// freezeText says what freezing takes; it is silent where the power set does it with room to spare.
func freezeText(h light.Head) string {
	if h.Freeze == 0 || h.Freeze >= h.Power {
		return ""
	}
	return "and lower; it must then stand at " + lengthText(h.FreezeAt) + " for the same light"
}

func shutterLine(p plan.Plan) phrase.Line {
	l := phrase.Line{Key: "shutter", Label: "Shutter time"}
	switch x := p.Light.Exposure; {
	case x == 0:
		l.Note = "not known: sync_s is not stated"
		if p.Request.Rig.Camera.Shutter == rig.ShutterOpen {
			l.Note = "held open; give how long with --exposure-s"
		}
	default:
		l.Value = shutterText(x)
		l.Note = "the shortest that shows the whole frame to the flash"
		if p.Request.Options.Exposure > 0 {
			l.Note = "as asked for"
		}
	}
	return l
}

func shutterText(s float64) string {
	if n := 1 / s; n >= 1.5 && math.Abs(n-math.Round(n)) < 0.02*n {
		return "1/" + strconv.FormatFloat(math.Round(n), 'f', -1, 64) + " s"
	}
	return unit.Plain(s, unit.Second)
}

func ghostText(below, streak float64) string {
	if below >= 6 {
		return "leaves no trace (6 stops do, common practice)"
	}
	return "may leave a streak " + lengthText(streak) +
		" long on the sensor; 6 stops below leave none (common practice)"
}

func energyLines(l light.Light, trips []plan.Trips) []phrase.Line {
	var lines []phrase.Line
	if l.Recycle > 0 {
		lines = append(lines, line("recycle", "Recycling", unit.Plain(unit.Significant(l.Recycle, 2), unit.Second),
			"of the slowest head at its power; the animal's rest between trips is what counts"))
	}
	if l.Energy > 0 {
		e := line("energy", "Flash energy", unit.Plain(unit.Significant(l.Energy, 2), "J")+" a trip",
			"of the heads that state it")
		if n := len(trips); n > 0 && trips[n-1].N > 0 {
			e.Note += fmt.Sprintf("; %s for a keeper with 95 %% confidence",
				unit.Plain(unit.Significant(l.Energy*float64(trips[n-1].N), 2), "J"))
		}
		if l.TripsADay > 0 {
			e.Note += fmt.Sprintf("; %d trips a day within day_energy_j", l.TripsADay)
		}
		lines = append(lines, e)
	}
	return lines
}
