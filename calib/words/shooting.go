package words

import (
	"fmt"

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
