package words

import (
	"fmt"

	"leadmark/fit"
)

// Contribution names a line of an uncertainty budget.
func Contribution(c fit.Contribution) string {
	better := ""
	if c.Kind == "A" {
		better = ", as small as the shots' scatter says"
	}
	switch c.Source {
	case "reading":
		return "reading the ruler, shot by shot" + better
	case "letting-go":
		return "height of letting go, shot by shot" + better
	case "speed":
		return "measured speed, shot by shot" + better
	case "speed-repeat":
		return "how a group's speed repeats, relative" + better
	case "spread":
		return "the lag's own spread, shot by shot"
	case "drop-height":
		return fmt.Sprintf("stated height of %.4g mm, one error for all its shots", milli*c.Drop)
	case "tape":
		return "all heights alike: where the tape was held"
	case "gravity":
		return "local gravity"
	case "trip-place":
		return "where the beam counts as broken"
	case "weights":
		return "the weights of the shots, which rest on the estimated scatter"
	}
	return c.Source
}
