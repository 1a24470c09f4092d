package summary

import (
	"fmt"

	"leadmark/calib/shoot"
	"leadmark/calib/words"
)

// Shoot says in sentences what a shoot came to.
func Shoot(r shoot.Result) []string {
	count := map[shoot.Status]int{}
	keep := 0
	for _, f := range r.Frames {
		count[f.Status]++
		if f.Rating >= 4 {
			keep++
		}
	}
	lines := []string{fmt.Sprintf("%d frames: an animal in %d, none in %d, %d refused; %d rated 4 or 5.",
		len(r.Frames), count[shoot.Found], count[shoot.Empty], count[shoot.Refused], keep)}
	if a := r.Agreement; a != nil {
		lines = append(lines, fmt.Sprintf("Inside the reach: %d of %d (95 %% interval %.0f to %.0f %%); the "+
			"plan expects %.0f %%, depth apart, which a picture does not show. Where the plan holds, chance "+
			"alone is as far off in %s of shoots.", a.Inside, a.N, 100*a.Interval95[0], 100*a.Interval95[1],
			100*a.Expected, words.Percent(a.P)))
	}
	if l := r.Learned; l != nil {
		lines = append(lines, fmt.Sprintf("Speed at the trip point: %.3g m/s (95 %% interval %.3g to %.3g), "+
			"standard deviation from trip to trip %#.2g m/s, from %d animals%s.", l.Speed, l.Speed95[0],
			l.Speed95[1], l.SpeedSD, l.N, goneText(l.Censored)))
		if h := l.Heading; h != nil {
			lines = append(lines, fmt.Sprintf("Heading: %s above the horizontal, standard deviation %s.",
				degreesText(h.Elevation, h.Known.U), degreesText(h.SD, 0)))
		}
	} else {
		lines = append(lines, "No speed was learned: "+r.NotLearned+".")
	}
	return append(lines, words.Sentences(r.Advice)...)
}

// goneText says of how many animals only a least lead is known.
func goneText(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf(", %d of them known only to have passed the picture's edge", n)
}

func degreesText(x, u float64) string {
	const deg = 57.29577951308232
	if u == 0 {
		return fmt.Sprintf("%.2g°", x*deg)
	}
	return fmt.Sprintf("%.1f° (standard uncertainty %.1f°)", x*deg, u*deg)
}
