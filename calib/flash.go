package calib

import (
	"fmt"
	"math"
	"sort"
	"strings"
	"time"

	"leadmark/ruler"
)

// weakStops is how far the ruler may be darker than in most frames, in stops, before the flash
// counts as weak. Heads repeat to a tenth of a stop or two; one that had not recycled falls by
// more (common practice, no source).
const weakStops = 0.7

// flashWarnings names frames in which the flash failed, or fired weakly, by the light on the ruler
// itself, and says how soon after the frame before they were taken: heads that had no time to
// recycle are the usual cause.
func (s *reader) flashWarnings() []Warning {
	var dark, weak []int
	usual := s.usualLight()
	for _, i := range s.todo {
		r := s.readings[i]
		switch {
		case r.Reason.Code == "dark":
			dark = append(dark, i)
		case r.Tone > 0 && usual > 0 && math.Log2(usual/light(r.Tone)) > weakStops:
			weak = append(weak, i)
		}
	}
	var out []Warning
	if len(dark) > 0 {
		out = append(out, s.flashWarning("flash-failed", "the flash did not light these frames", dark))
	}
	if len(weak) > 0 {
		out = append(out, s.flashWarning("flash-weak", fmt.Sprintf("the ruler is more than %.1f stops darker here than in most frames", weakStops), weak))
	}
	return out
}

// usualLight is the median light on the ruler over the frames that were read.
func (s *reader) usualLight() float64 {
	var v []float64
	for _, i := range s.todo {
		if r := s.readings[i]; r.Status == ruler.StatusRead && r.Tone > 0 {
			v = append(v, light(r.Tone))
		}
	}
	return median(v)
}

// light is what a tone stands for by the sRGB curve (IEC 61966-2-1), its straight part left aside.
func light(tone float64) float64 { return math.Pow((tone+0.055)/1.055, 2.4) }

func (s *reader) flashWarning(code, what string, frames []int) Warning {
	w := Warning{Code: code}
	var soon []string
	usual := s.usualPause()
	for _, i := range frames {
		w.Frames = append(w.Frames, s.frames[i].Name)
		if p, ok := s.pause(i); ok {
			soon = append(soon, fmt.Sprintf("%s %.1f s", s.frames[i].Name, p.Seconds()))
		}
	}
	w.Text = what
	if len(soon) > 0 && usual > 0 {
		w.Text += fmt.Sprintf("; taken after the frame before by: %s (usually %.1f s)", strings.Join(soon, ", "), usual.Seconds())
	}
	w.Text += "; give the heads time to recycle, and check their batteries and triggers"
	return w
}

// pause is the time from the frame before, where both say when they were taken.
func (s *reader) pause(i int) (time.Duration, bool) {
	if i == 0 || s.frames[i].Taken.IsZero() || s.frames[i-1].Taken.IsZero() {
		return 0, false
	}
	d := s.frames[i].Taken.Sub(s.frames[i-1].Taken)
	return d, d > 0
}

// usualPause is the median time between frames; 0 where it is not known.
func (s *reader) usualPause() time.Duration {
	var all []time.Duration
	for _, i := range s.todo {
		if p, ok := s.pause(i); ok {
			all = append(all, p)
		}
	}
	if len(all) == 0 {
		return 0
	}
	sort.Slice(all, func(a, b int) bool { return all[a] < all[b] })
	return all[len(all)/2]
}
