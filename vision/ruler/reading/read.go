package reading

import (
	"math"
	"slices"

	"leadmark/fit/note"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/scale"
)

// rival is another division that suits the lines about as well, where none is stated, or that of lines as
// long as rulers have them where they would be odd.
func (c candidate) rival(spec ruler.Spec) (scale.Match, bool) {
	if spec.Graduation > 0 || c.code != nil {
		return scale.Match{}, false
	}
	var usual scale.Match
	for _, m := range c.matches {
		if m.Graduation == c.match.Graduation {
			continue
		}
		if m.Total() > c.match.Total()-scale.TellApart {
			return m, true
		}
		if m.Halves() == c.match.Halves() && (usual.Graduation == 0 || m.Size > usual.Size) {
			usual = m
		}
	}
	return usual, c.match.Size < oddLines && usual.Size > c.match.Size
}

// read turns a row into a Reading.
func (c candidate) read(s ruler.Sighting, spec ruler.Spec) ruler.Reading {
	r := ruler.Reading{Status: ruler.StatusRead, Unit: c.match.Unit, Graduation: c.match.Graduation, Tone: c.row.Tone,
		CodeSeen: c.coded}
	if n := c.match.Nominal; n > 0 && math.Abs(r.Graduation/n-1) > plainlyStated {
		r.Warnings = append(r.Warnings, note.New("graduation-stated", r.Graduation, r.Graduation/n-1, n))
	}
	if other, unsure := c.rival(spec); unsure {
		r.Warnings = append(r.Warnings, note.New("graduation-unsure", other.Graduation, r.Graduation))
	}
	num := c.number(&r, spec)
	r.Scale = scaleOf(&c.scale, c.row, num)
	r.Scale.PlaceU = math.Hypot(r.Scale.PlaceU, scale.SetOff(c.row.Marks)/2)
	r.Scale.Width = widthAt(r.Scale, c.row.Sides[1], c.scale.Place(c.scale.Mid))
	mid := num.reading(c.scale.Mid)
	r.PxPerM = r.Scale.PxPerM(mid)
	r.U = math.Sqrt(c.scale.RMS*c.scale.RMS/float64(max(1, c.scale.Used)) + sharedOff*sharedOff)
	if r.Front != nil {
		r.Front.Reading = r.Scale.Reading(r.Scale.Along(r.Front.At))
	}
	end := r.Front
	if spec.Band {
		end = nil // the ruler goes on past its band
	}
	r.Graduations = c.graduations(num, end)
	r.Outline = c.outline(r)
	return r
}

// graduations lists every line from the first to the last seen, none past the front end.
func (c candidate) graduations(num numbering, front *ruler.End) ruler.Graduations {
	first, last := c.row.Marks[0].Index, c.row.Marks[len(c.row.Marks)-1].Index
	if front != nil {
		end := c.scale.Index(c.row.Along(front.At))
		for ; first <= last && c.past(float64(first), end); first++ {
		}
		for ; first <= last && c.past(float64(last), end); last-- {
		}
	}
	seen := map[int]ruler.Mark{}
	for i, k := range c.row.Marks {
		if math.Abs(c.scale.Residual[i]) < ownPlace*c.scale.Pitch(float64(k.Index)) {
			seen[k.Index] = k
		}
	}
	out := ruler.Graduations{Axis: c.row.Axis(), First: num.reading(float64(first)), Step: num.step}
	for i := first; i <= last; i++ {
		k, ok := seen[i]
		t := k.T
		if !ok {
			t = c.scale.Place(float64(i))
		}
		out.T, out.Seen = append(out.T, float32(t)), append(out.Seen, ok)
	}
	if num.step < 0 {
		slices.Reverse(out.T)
		slices.Reverse(out.Seen)
		out.First, out.Step = num.reading(float64(last)), -num.step
	}
	return out
}

// past says whether a line lies past an end of the ruler, seen from the middle of the row.
func (c candidate) past(index, end float64) bool {
	if end > c.scale.Mid {
		return index > end+pastEnd
	}
	return index < end-pastEnd
}

// outline is the part of the ruler that was found: from its first mark, or front end, to its
// last, between its long edges where those were found.
func (c candidate) outline(r ruler.Reading) [4]ruler.Point {
	m := c.row.Marks
	ta, tb := m[0].T, m[len(m)-1].T
	if r.Front != nil {
		t := r.Scale.Along(r.Front.At)
		ta, tb = min(ta, t), max(tb, t)
	}
	corner := func(t float64, side int) ruler.Point {
		at := c.row.Origin.Add(c.row.Dir.Mul(t))
		across := ruler.Line{A: at, B: at.Add(c.row.MarkDir(t))}
		if edge := c.row.Sides[side]; edge != nil {
			if p, ok := across.Meet(*edge); ok {
				return p
			}
		}
		w := -c.row.HalfLength
		if side == 1 {
			w = c.row.HalfLength + unseenBody*c.row.Pitch
		}
		return at.Add(c.row.MarkDir(t).Mul(w))
	}
	return [4]ruler.Point{corner(ta, 0), corner(tb, 0), corner(tb, 1), corner(ta, 1)}
}
