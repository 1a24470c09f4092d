package read

import (
	"math"
	"slices"
	"time"

	"leadmark/fit/note"
	"leadmark/fit/stat"
	"leadmark/vision/ruler"
)

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
		rest := restBefore(shots, readings, dark)
		out = append(out, Warning{note.New("flash-failed", rest), namesOf(shots, dark)})
	}
	if len(weak) > 0 {
		rest := restBefore(shots, readings, weak)
		out = append(out, Warning{note.New("flash-weak", weakStops, rest), namesOf(shots, weak)})
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

func namesOf(shots []Shot, frames []int) []string {
	var names []string
	for _, i := range frames {
		names = append(names, shots[i].Name)
	}
	return names
}

// restBefore says how long the heads had rested, in seconds, before they fired poorly and before they
// fired fully, as far as the files' times tell. It is told within a warning of the flash.
func restBefore(shots []Shot, readings []ruler.Reading, poor []int) note.Note {
	var short, long []time.Duration
	fired := map[int]bool{} // poorly
	for _, i := range poor {
		fired[i] = true
	}
	for i, r := range readings {
		p, ok := pause(shots, i)
		switch {
		case !ok:
		case fired[i]:
			short = append(short, p)
		case r.Status == ruler.StatusRead:
			long = append(long, p)
		}
	}
	if len(short) == 0 || len(long) == 0 {
		return note.Of(codeRest, "unknown")
	}
	from, to := slices.Min(short).Seconds(), slices.Max(short).Seconds()
	usual := median(long).Seconds()
	switch least := slices.Min(long); {
	case slices.Max(short) < least:
		return note.Of(codeRest, "short", from, to, least.Seconds())
	case slices.Min(short) >= median(long):
		return note.Of(codeRest, "long", from, to, usual)
	default:
		return note.Of(codeRest, "mixed", from, to, least.Seconds(), slices.Max(long).Seconds(), usual)
	}
}

// codeRest is of the part of a warning that tells how long the heads rested.
const codeRest = "flash-rest"

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
