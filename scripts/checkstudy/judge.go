package main

import (
	"fmt"
	"math"
	"slices"

	"leadmark/calib/shoot"
	"leadmark/vision/animal"
	"leadmark/vision/synth/animals"
)

// outcome is what looking at the first animal of a frame came to. What was not found or not
// measured is as wrong as can be.
type outcome struct {
	name string
	// by the drawing
	little bool // too little of it is in the picture to be an animal
	whole  bool // no side of the picture cuts it
	truth  blurs
	cause  string // "" where it is sharp

	found, number, sides bool    // number: as many as drawn; sides: cut by the same
	overlap              float64 // of the outlines, 0 to 1
	nose                 float64 // px, off along the travel; NaN where not found
	seen                 blurs   // NaN where not measured
	seenCause            string  // "" where sharp; "not measured"
}

// judge holds what was seen in a frame against the truth of its first animal.
func judge(name string, draw animals.Scene, truth []animals.Truth, length float64, seen animal.Sighting) outcome {
	first, nothing := truth[0], math.NaN()
	cut := sidesOf(first, draw.Width, draw.Height)
	o := outcome{name: name, little: !isAnimal(first, length), whole: len(cut) == 0, truth: blursOf(draw.Animals[0]),
		nose: nothing, seen: blurs{sigma: nothing, motion: nothing}, seenCause: "not measured"}
	o.cause = o.truth.cause(draw.Width)
	drawn := 0
	for _, t := range truth {
		if isAnimal(t, length) {
			drawn++
		}
	}
	o.number = len(seen.Found) == drawn
	a, overlap := nearest(seen, first, draw)
	if overlap < leastOverlap {
		return o
	}
	o.found, o.overlap, o.nose = true, overlap, a.Nose.X-first.Front
	o.sides = len(cut) == len(a.Touches)
	for _, side := range a.Touches {
		o.sides = o.sides && cut[side]
	}
	if e := a.Edges; e != nil {
		o.seen = blurs{sigma: e.Blur, motion: e.Motion}
		_, o.seenCause = shoot.Sharpness(*e, [2]float64{1, 0}, draw.Width)
	}
	return o
}

// expect is the cause that a drawing was made for. The formula must agree: else the study is wrong.
func (o *outcome) expect(cause string) {
	if o.cause != cause {
		panic(fmt.Sprintf("%s was drawn for %q, and the formula has %q", o.name, cause, o.cause))
	}
}

// motionRight says whether the motion blur is right to 15 % or 0.5 px, blurRight the Gaussian.
func (o *outcome) motionRight() bool {
	return math.Abs(o.seen.motion-o.truth.motion) <= max(0.5, 0.15*o.truth.motion)
}

func (o *outcome) blurRight() bool {
	return math.Abs(o.seen.sigma-o.truth.sigma) <= max(0.5, 0.15*o.truth.sigma)
}

// clear says whether the cause is plain: the frame is not within a fifth of the limit, nor one blur
// within a fifth of the other.
func (o *outcome) clear(long int) bool {
	const fifth = 1.2
	apart := func(a, b float64) bool { return max(a, b) >= fifth*min(a, b) }
	return apart(o.truth.total(), sharpest(long)) && (o.cause == "" || apart(o.truth.width(), o.truth.motion))
}

func (o *outcome) String() string {
	return fmt.Sprintf("%s: found %v, as many as drawn %v, sides %v, overlap %.3f, nose %+.2f px, sigma %.2f (%.2f) px, "+
		"motion %.2f (%.2f) px, cause %q (%q)", o.name, o.found, o.number, o.sides, o.overlap, o.nose,
		o.seen.sigma, o.truth.sigma, o.seen.motion, o.truth.motion, o.seenCause, o.cause)
}

// leastOverlap is from which share an outline is that of an animal.
const leastOverlap = 0.3

// nearest is the animal found that overlaps the truth most.
func nearest(seen animal.Sighting, t animals.Truth, draw animals.Scene) (a animal.Animal, best float64) {
	for _, f := range seen.Found {
		if o := overlap(f, t, draw.Width, draw.Height); o > best {
			a, best = f, o
		}
	}
	return a, best
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
