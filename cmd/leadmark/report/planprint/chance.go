package planprint

import (
	"fmt"
	"math"

	"leadmark/calib/plan"
	"leadmark/calib/plan/subject"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/fit/unit"
)

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

func chanceOfKeeper(p plan.Plan) string {
	if k := p.Chance.Keeper; k != nil {
		return chanceText(k.P)
	}
	return "at most " + chanceText(p.Chance.AtMost.P)
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
	return fmt.Sprintf("about %.0f", unit.Significant(float64(n), 2))
}

func changeLines(p plan.Plan) []phrase.Line {
	var lines []phrase.Line
	for _, c := range p.Changes {
		lines = append(lines, line("change", words.Sentence(c.Note), chanceText(c.Keeper), signed(c.Gain)))
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
