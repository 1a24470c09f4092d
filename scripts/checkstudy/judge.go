package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"leadmark/calib/shoot"
	"leadmark/fit/stat"
	"leadmark/vision/animal"
	"leadmark/vision/synth/animals"
)

// study is what looking at many drawn frames came to.
type study struct {
	width                                    int
	verbose                                  bool
	frames, found, otherNumber, edgeRight    int
	empty, falseFinds                        int
	motions, motionRight, causes, causeRight int
	clearCauses, clearRight                  int
	overlap, nose, motionOff                 []float64
}

func (s *study) say(format string, args ...any) {
	if s.verbose {
		fmt.Printf(format+"\n", args...)
	}
}

// leastSeen is the share of a body's length squared, about a tenth of the animal, below which what
// is in the picture is no animal.
const leastSeen = 0.025

// judge holds what was seen against the truth of the first animal.
func (s *study) judge(name string, draw animals.Scene, truth []animals.Truth, seen animal.Sighting) {
	least := leastSeen * math.Pow(0.19*float64(s.width), 2)
	if float64(truth[0].Area) < least {
		return
	}
	s.frames++
	want := 0
	for _, t := range truth {
		if float64(t.Area) >= least {
			want++
		}
	}
	if len(seen.Found) != want {
		s.otherNumber++
		s.say("%s: %d animals, %d drawn", name, len(seen.Found), want)
	}
	a, best := nearest(seen, truth[0], draw)
	if best < 0.3 {
		s.say("%s: not found", name)
		return
	}
	s.found++
	s.overlap = append(s.overlap, best)
	if (len(a.Touches) > 0) == truth[0].Touches {
		s.edgeRight++
	} else {
		s.say("%s: touches %v, in truth %v (box %v)", name, a.Touches, truth[0].Touches, truth[0].Box)
	}
	if !truth[0].Touches {
		s.nose = append(s.nose, math.Abs(a.Nose.X-truth[0].Front))
		s.edges(name, a, draw, draw.Animals[0])
	}
}

// nearest is the animal found that overlaps the truth most.
func nearest(seen animal.Sighting, t animals.Truth, draw animals.Scene) (a animal.Animal, best float64) {
	for _, f := range seen.Found {
		if o := overlap(f, t, draw.Width, draw.Height); o > best {
			a, best = f, o
		}
	}
	return a, best
}

// clearly is by how many times the greater of two blurs exceeds the other where the cause is clear.
const clearly = 1.2

// edges judges motion blur and cause.
func (s *study) edges(name string, a animal.Animal, draw animals.Scene, drawn animals.Animal) {
	sin, cos := math.Sincos(drawn.Way)
	truth := animal.Edges{Blur: max(drawn.Defocus, 0.45), Motion: drawn.Tail * math.Ln10,
		Direction: animal.Point{X: cos, Y: -sin}}
	s.motions++
	if a.Edges == nil {
		s.say("%s: edges not measured", name)
		a.Edges = &animal.Edges{}
	}
	off := math.Abs(a.Edges.Motion - truth.Motion)
	s.motionOff = append(s.motionOff, off/max(0.5, 0.15*truth.Motion))
	if off <= max(0.5, 0.15*truth.Motion) {
		s.motionRight++
	} else {
		s.say("%s: motion %.2f px, drawn %.2f; blur %.2f, drawn %.2f (ground %d, kind %d)", name, a.Edges.Motion,
			truth.Motion, a.Edges.Blur, truth.Blur, draw.Ground, drawn.Kind)
	}
	travel := [2]float64{1, 0}
	sharp, want := shoot.Sharpness(truth, travel, draw.Width)
	if sharp {
		return
	}
	_, got := shoot.Sharpness(*a.Edges, travel, draw.Width)
	ratio := 2.5631 * truth.Blur / max(truth.Motion, 0.1)
	clear := max(ratio, 1/ratio) >= clearly
	s.causes++
	if clear {
		s.clearCauses++
	}
	if got == want {
		s.causeRight++
		if clear {
			s.clearRight++
		}
	} else {
		s.say("%s: cause %q, in truth %q", name, got, want)
	}
}

// overlap is the intersection of outline and truth over their union.
func overlap(a animal.Animal, t animals.Truth, w, h int) float64 {
	in := filled(a.Outline, w, h)
	both, any := 0, 0
	for i := range in {
		if in[i] && t.Mask[i] {
			both++
		}
		if in[i] || t.Mask[i] {
			any++
		}
	}
	return float64(both) / float64(max(1, any))
}

// filled is the inside of a polygon with its boundary, by crossings of each row.
func filled(p []animal.Point, w, h int) []bool {
	in := make([]bool, w*h)
	for y := range h {
		var xs []float64
		for i, b := range p {
			a := p[(i+len(p)-1)%len(p)]
			if (a.Y > float64(y)) != (b.Y > float64(y)) {
				xs = append(xs, a.X+(float64(y)-a.Y)/(b.Y-a.Y)*(b.X-a.X))
			}
		}
		slices.Sort(xs)
		for i := 0; i+1 < len(xs); i += 2 {
			for x := max(0, int(math.Ceil(xs[i]))); x <= min(w-1, int(xs[i+1])); x++ {
				in[y*w+x] = true
			}
		}
	}
	for _, q := range p {
		in[min(h-1, int(q.Y))*w+min(w-1, int(q.X))] = true
	}
	return in
}

func quantile(v []float64, q float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	return stat.Quantile(slices.Clone(v), q)
}

func share(k, n int) float64 { return 100 * float64(k) / float64(max(1, n)) }

// report prints the figures.
func (s *study) report() string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line("found                      %d of %d (%.1f %%); in other number than drawn %d", s.found, s.frames,
		share(s.found, s.frames), s.otherNumber)
	line("false finds                %d in %d empty frames", s.falseFinds, s.empty)
	line("outline overlap            median %.3f, least %.3f", quantile(s.overlap, 0.5), quantile(s.overlap, 0))
	line("whole or cut right         %d of %d (%.1f %%)", s.edgeRight, s.found, share(s.edgeRight, s.found))
	line("nose error                 median %.2f px, 90 %% %.2f px", quantile(s.nose, 0.5), quantile(s.nose, 0.9))
	line("motion blur to 15 %%/0.5 px %d of %d (%.1f %%); median error %.2f of that", s.motionRight, s.motions,
		share(s.motionRight, s.motions), quantile(s.motionOff, 0.5))
	line("cause right                %d of %d (%.1f %%); where one cause is 1.2 times the other %d of %d "+
		"(%.1f %%)", s.causeRight, s.causes, share(s.causeRight, s.causes), s.clearRight, s.clearCauses,
		share(s.clearRight, s.clearCauses))
	return b.String()
}

// leastMotion is the share of motion blurs, percent, that must be right to 15 % or 0.5 px. A motion blur
// that is small beside the Gaussian blur cannot be told, so that all of them cannot be.
const leastMotion = 85

// broken lists the promises that do not hold.
func (s *study) broken() []string {
	var b []string
	for what, holds := range map[string]bool{
		"found": 100*s.found >= 98*s.frames, "false finds": s.falseFinds == 0,
		"outline":      quantile(s.overlap, 0.5) >= 0.93,
		"whole or cut": 100*s.edgeRight >= 98*s.found, "nose": quantile(s.nose, 0.5) <= 2,
		"motion blur": 100*s.motionRight >= leastMotion*s.motions, "cause": 100*s.causeRight >= 90*s.causes,
	} {
		if !holds {
			b = append(b, what)
		}
	}
	slices.Sort(b)
	return b
}
