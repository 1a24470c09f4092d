package design

import (
	"fmt"
	"math"
)

// say is what to do, in one line.
func (b Batch) say() string {
	often := fmt.Sprintf("%d times", b.Shots)
	if b.Shots == 1 {
		often = "once"
	}
	text := fmt.Sprintf("push the ruler %s at the speed of group %q", often, b.Group)
	switch {
	case b.Drop > 0:
		text = fmt.Sprintf("drop the ruler %s from %.4g mm", often, 1e3*b.Drop)
	case b.Speed > 0:
		text = fmt.Sprintf("push the ruler %s at about %.2g m/s", often, b.Speed)
	case b.Group == "":
		text = fmt.Sprintf("push the ruler %s at the same speed as before", often)
	}
	if b.Delay != 0 {
		text += fmt.Sprintf(" with %.3g ms of added delay", 1e3*b.Delay)
	}
	return text
}

// text says it all.
func (d *designer) text(o Schedule, goal Goal) string {
	text := ""
	for i, b := range o.Batches {
		if i > 0 {
			text += ", "
		}
		text += b.Text
	}
	text += fmt.Sprintf(": the lag's standard uncertainty then is about %.2g ms", 1e3*o.ULag)
	if goal.UNext > 0 {
		text += fmt.Sprintf(", the next shot's %.2g ms", 1e3*o.UNext)
	}
	switch {
	case !o.Possible && goal.UNext > 0 && goal.UNext*goal.UNext <= d.Spread2:
		text += fmt.Sprintf("; the goal is out of reach: the spread alone is %.2g ms, and no number of "+
			"shots makes the next one surer", 1e3*math.Sqrt(d.Spread2))
	case !o.Possible:
		text += fmt.Sprintf("; the goal is out of reach within these limits: most of what is left comes "+
			"from %s", limitWords[o.Limit])
	}
	switch {
	case sum(o.Stage) < o.Shots:
		text += fmt.Sprintf("; shoot %d of them first and plan again, as the spread is not known well "+
			"yet, and stop as soon as the goal is reached", sum(o.Stage))
	case d.DF == 0:
		text += "; then plan again, as the spread is not known yet"
	case o.Possible:
		text += "; then the goal is reached: stop"
	}
	if o.Assumed != "" {
		text += ". Assumed: " + o.Assumed
	}
	return text
}

func sum(list []Batch) (n int) {
	for _, b := range list {
		n += b.Shots
	}
	return n
}

// limitWords names a budget's source and what would lower it.
var limitWords = map[string]string{
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
}
