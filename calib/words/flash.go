package words

import (
	"fmt"

	"leadmark/fit/note"
)

// flash is what is wrong with the light on the ruler, and whether the heads had time to recycle.
func flash() map[string]say {
	const check = "check batteries and triggers"
	return map[string]say{
		"flash-failed": as("the flash did not light these frames%s"),
		"flash-weak":   as("the ruler is more than %.1f stops darker here than in most frames%s"),

		"flash-rest/unknown": as("; give the heads time to recycle, and " + check),
		"flash-rest/short": func(n note.Note) string {
			return came(n) + fmt.Sprintf(", while after %.1f s or more the heads fired fully: wait at least that "+
				"long, and %s", n.Number(2), check)
		},
		"flash-rest/long": func(n note.Note) string {
			return came(n) + fmt.Sprintf(", no sooner than others (usually %.1f s) that fired fully: %s",
				n.Number(2), check)
		},
		"flash-rest/mixed": func(n note.Note) string {
			return came(n) + fmt.Sprintf(", others that fired fully %s (usually %.1f s): give the heads time to "+
				"recycle, and %s", span(n.Number(2), n.Number(3)), n.Number(4), check)
		},
	}
}

// came says how long after the frame before the heads fired poorly: from least to most, s, with which
// a note begins.
func came(n note.Note) string {
	return "; they came " + span(n.Number(0), n.Number(1)) + " after the frame before"
}

// span prints times as one, or as least to most.
func span(least, most float64) string {
	if most-least < 0.05 {
		return fmt.Sprintf("%.1f s", least)
	}
	return fmt.Sprintf("%.1f to %.1f s", least, most)
}
