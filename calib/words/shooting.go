package words

import (
	"fmt"
	"strings"

	"leadmark/fit/design"
	"leadmark/fit/note"
)

// advised is what to shoot next, and what a plan of it rests on.
func advised() map[string]say {
	return map[string]say{
		"shoot/to-tell": as("%s: the lag can then be told, to a standard uncertainty of about %.2g "+
			"ms").in(asItIs, milli),
		"shoot/to-better": as("%s: the lag's standard uncertainty falls from %.2g to about %.2g "+
			"ms").in(asItIs, milli, milli),
		"shots/push": func(n note.Note) string {
			return fmt.Sprintf("push the ruler %.0f times at about %.2g m/s", n.Number(0), n.Number(1)) +
				withDelay(n.Number(2))
		},
		"shots/drop": func(n note.Note) string {
			return fmt.Sprintf("drop the ruler %.0f times from %.4g mm", n.Number(0), milli*n.Number(1)) +
				withDelay(n.Number(2))
		},
		"shots/more": func(n note.Note) string {
			return fmt.Sprintf("make %.0f more shots", n.Number(0)) + withDelay(n.Number(1))
		},
		"shoot/trip-place": as("mark the trip place in the picture (a frame with the front end resting where " +
			"it just trips), or sweep the delay for a second group at about twice the speed"),
		"shoot/two-heights": as("drop the ruler from two heights, one four times the other, six times each"),
		"assumed/drops": func(n note.Note) string {
			return fmt.Sprintf("drops of up to %.4g mm", milli*n.Number(0)) + assumed(n)
		},
		"assumed/pushes": func(n note.Note) string {
			return fmt.Sprintf("pushes at %.0f measured speeds", n.Number(0)) + assumed(n)
		},
	}
}

func withDelay(delay float64) string {
	if delay == 0 {
		return ""
	}
	return fmt.Sprintf(" with %.3g ms of added delay", milli*delay)
}

// assumed is the lag, the spread and where they come from, and how well the ruler will be read.
func assumed(n note.Note) string {
	source := n.Text(3)
	if source != "" {
		source = " (" + source + ")"
	}
	return fmt.Sprintf(", a lag of %.3g ms and a spread of %.2g ms%s, and readings to %.2g mm; the first shots "+
		"will tell", milli*n.Number(1), milli*n.Number(2), source, milli*n.Number(4))
}

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
	text := strings.Join(what, ", ") + fmt.Sprintf(": the lag's standard uncertainty then is about %.2g ms",
		milli*s.ULag)
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
