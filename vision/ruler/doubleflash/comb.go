package doubleflash

import (
	"math"

	"leadmark/vision/ruler/scale"
)

// comb is the lines of one class of a pattern.
type comb struct {
	scale.Class
	but []scale.Class // of longer lines, which do not belong to it
}

// combsOf are a pattern's classes of lines, the longest first, the shortest lines last.
func combsOf(p scale.Pattern) []comb {
	var out []comb
	for i, c := range p.Classes {
		out = append(out, comb{c, p.Classes[:i]})
	}
	return append(out, comb{scale.Class{Period: 1}, p.Classes})
}

// has says whether line n belongs to the comb.
func (c comb) has(n int) bool {
	for _, o := range c.but {
		if ((n-o.Rest)%o.Period+o.Period)%o.Period == 0 {
			return false
		}
	}
	return ((n-c.Rest)%c.Period+c.Period)%c.Period == 0
}

// lineShape is a line of a width, blurred by a normal distribution of standard deviation blur; both
// in graduations.
type lineShape struct{ width, blur float64 }

// usualLine is the width of rulers' lines, in graduations. Common practice, no source: a sixth to a
// quarter.
const usualLine = 0.2

// farthestLine bounds the lines counted, in graduations from where a scale begins.
const farthestLine = 1e5

func (s lineShape) sensible() bool {
	return s.blur > 0.01 && s.blur < 0.6 && s.width > 0.02 && s.width < 0.6
}

// at is the height of a line d from its middle.
func (s lineShape) at(d float64) float64 {
	k := 1 / (math.Sqrt2 * s.blur)
	return (math.Erf((d+s.width/2)*k) - math.Erf((d-s.width/2)*k)) / 2
}

// at is the comb's height at a place u, in graduations.
func (c comb) at(u float64, s lineShape) float64 {
	reach := s.width/2 + 3.5*s.blur
	if !(math.Abs(u) < farthestLine) {
		return 0 // a scale bent that far says nothing, and its places have no end
	}
	v := 0.0
	for n := int(math.Ceil(u - reach)); float64(n) <= u+reach; n++ {
		if c.has(n) {
			v += s.at(u - float64(n))
		}
	}
	return v
}
