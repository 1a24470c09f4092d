package words

import (
	"fmt"
	"strings"

	"leadmark/fit/design"
)

// Batch says what to shoot, in one line.
func Batch(b design.Batch) string {
	often := fmt.Sprintf("%d times", b.Shots)
	if b.Shots == 1 {
		often = "once"
	}
	text := fmt.Sprintf("push the ruler %s at the speed of group %q", often, b.Group)
	switch {
	case b.Drop > 0:
		text = fmt.Sprintf("drop the ruler %s from %.4g mm", often, milli*b.Drop)
	case b.Speed > 0:
		text = fmt.Sprintf("push the ruler %s at about %.2g m/s", often, b.Speed)
	case b.Group == "":
		text = fmt.Sprintf("push the ruler %s at the same speed as before", often)
	}
	return text + withDelay(b.Delay)
}

// Schedule says in a few sentences what to shoot, what comes of it, and when to stop.
func Schedule(s design.Schedule) string {
	if s.Reached {
		return fmt.Sprintf("stop: the lag's standard uncertainty is %.2g ms, which the goal asks for", milli*s.ULagNow)
	}
	var what []string
	for _, b := range s.Batches {
		what = append(what, Batch(b))
	}
	text := strings.Join(what, ", ")
	text += fmt.Sprintf(": the lag's standard uncertainty then is about %.2g ms", milli*s.ULag)
	if s.Next {
		text += fmt.Sprintf(", the next shot's %.2g ms", milli*s.UNext)
	}
	text += outOfReach(s) + andThen(s)
	if !s.Assumed.None() {
		text += ". Assumed: " + Sentence(s.Assumed)
	}
	return text
}

// outOfReach says why a goal cannot be reached.
func outOfReach(s design.Schedule) string {
	switch {
	case s.Possible:
		return ""
	case s.SpreadAlone:
		return fmt.Sprintf("; the goal is out of reach: the spread alone is %.2g ms, and no number of shots makes "+
			"the next one surer", milli*s.Spread)
	}
	return "; the goal is out of reach within these limits: most of what is left comes from " + limit(s.Limit)
}

// andThen says how to go on after the stage.
func andThen(s design.Schedule) string {
	stage := 0
	for _, b := range s.Stage {
		stage += b.Shots
	}
	switch {
	case stage < s.Shots:
		return fmt.Sprintf("; shoot %d of them first and plan again, as the spread is not known well yet, and "+
			"stop as soon as the goal is reached", stage)
	case s.Supposed:
		return "; then plan again, as the spread is not known yet"
	case s.Possible:
		return "; then the goal is reached: stop"
	}
	return ""
}

// limit is a source of the budget with what would lower it.
func limit(source string) string {
	return map[string]string{
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
	}[source]
}
