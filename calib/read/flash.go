package read

import (
	"fmt"
	"math"
	"slices"
	"time"

	"leadmark/fit/stat"
	"leadmark/vision/ruler"
)

// weakStops is how far the ruler may be darker than in most frames, in stops, before the flash
// counts as weak. Heads repeat to a tenth of a stop or two; one that had not recycled falls by
// more (common practice, no source).
const weakStops = 0.7

// flashWarnings names frames in which the flash failed, or fired weakly, by the light on the ruler
// itself, and says how soon after the frame before they were taken: heads that had no time to
// recycle are the usual cause.
func flashWarnings(shots []Shot, readings []ruler.Reading) []Warning {
	var dark, weak []int
	usual := usualLight(readings)
	for i, r := range readings {
		switch {
		case r.Reason.Code == "dark":
			dark = append(dark, i)
		case r.Tone > 0 && usual > 0 && math.Log2(usual/light(r.Tone)) > weakStops:
			weak = append(weak, i)
		}
	}
	var out []Warning
	if len(dark) > 0 {
		out = append(out, flashWarning(shots, readings, "flash-failed", "the flash did not light these frames", dark))
	}
	if len(weak) > 0 {
		out = append(out, flashWarning(shots, readings, "flash-weak",
			fmt.Sprintf("the ruler is more than %.1f stops darker here than in most frames", weakStops), weak))
	}
	return out
}

// usualLight is the median light on the ruler over the frames that were read.
func usualLight(readings []ruler.Reading) float64 {
	var v []float64
	for _, r := range readings {
		if r.Status == ruler.StatusRead && r.Tone > 0 {
			v = append(v, light(r.Tone))
		}
	}
	return stat.Median(slices.Clone(v))
}

// light is what a tone stands for by the sRGB curve (IEC 61966-2-1), its straight part left aside.
func light(tone float64) float64 { return math.Pow((tone+0.055)/1.055, 2.4) }

func flashWarning(shots []Shot, readings []ruler.Reading, code, what string, frames []int) Warning {
	w := Warning{Code: code, Text: what}
	poor := map[int]bool{}
	for _, i := range frames {
		w.Frames = append(w.Frames, shots[i].Name)
		poor[i] = true
	}
	w.Text += restText(shots, readings, poor)
	return w
}

// restText says how long the heads had rested before they fired poorly and before they fired fully,
// as far as the files' times tell, and what follows from it.
func restText(shots []Shot, readings []ruler.Reading, poor map[int]bool) string {
	var short, long []time.Duration
	for i, r := range readings {
		p, ok := pause(shots, i)
		switch {
		case !ok:
		case poor[i]:
			short = append(short, p)
		case r.Status == ruler.StatusRead:
			long = append(long, p)
		}
	}
	const check = "check batteries and triggers"
	if len(short) == 0 || len(long) == 0 {
		return "; give the heads time to recycle, and " + check
	}
	text := fmt.Sprintf("; they came %s after the frame before", span(short))
	switch least := slices.Min(long); {
	case slices.Max(short) < least:
		return text + fmt.Sprintf(", while after %.1f s or more the heads fired fully: wait at least that "+
			"long, and %s", least.Seconds(), check)
	case slices.Min(short) >= median(long):
		return text + fmt.Sprintf(", no sooner than others (usually %.1f s) that fired fully: %s",
			median(long).Seconds(), check)
	default:
		return text + fmt.Sprintf(", others that fired fully %s (usually %.1f s): give the heads time to "+
			"recycle, and %s", span(long), median(long).Seconds(), check)
	}
}

// span prints durations as one, or as least to most.
func span(d []time.Duration) string {
	a, b := slices.Min(d).Seconds(), slices.Max(d).Seconds()
	if b-a < 0.05 {
		return fmt.Sprintf("%.1f s", a)
	}
	return fmt.Sprintf("%.1f to %.1f s", a, b)
}

// median of durations, of an even number the longer of the middle two.
func median(d []time.Duration) time.Duration { return stat.Select(slices.Clone(d), len(d)/2) }

// pause is the time from the frame before, where both say when they were taken.
func pause(shots []Shot, i int) (time.Duration, bool) {
	if i == 0 || shots[i].Taken.IsZero() || shots[i-1].Taken.IsZero() {
		return 0, false
	}
	d := shots[i].Taken.Sub(shots[i-1].Taken)
	return d, d > 0
}
