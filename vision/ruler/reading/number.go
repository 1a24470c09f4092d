package reading

import (
	"math"

	"leadmark/fit/note"
	"leadmark/vision/ruler"
)

// number says which reading each index has, and finds the front end on the way: the two
// depend on each other.
func (c candidate) number(r *ruler.Reading, spec ruler.Spec) numbering {
	if c.code != nil {
		return c.numberByCode(r, spec)
	}
	forward := spec.Forward(c.row.Dir)
	if forward == 0 && spec.Toward != (ruler.Point{}) {
		r.Status = ruler.StatusRefused
		r.Reason = acrossTravel(c.row.Dir)
		return c.numberAlone(r)
	}
	if forward == 0 {
		return c.numberAlone(r)
	}
	rising := numbering{step: -float64(forward) * r.Graduation} // away from the front end
	if spec.Band {
		return c.numberByBand(r, spec, rising, forward)
	}
	num, end, ok := c.sense(spec.Front, rising, forward)
	if !ok {
		r.Status = ruler.StatusRefused
		r.Reason = note.Of("front-not-visible", "picture")
		num.zero = lastIndex(c.row, forward)
		return num
	}
	r.Front, r.Falling = c.end(end), num.step != rising.step
	num.zero = c.scale.Index(c.row.Along(r.Front.At))
	if spec.Front != nil {
		num.zero = c.zeroLine(r, num, *spec.Front)
		r.Absolute = true
	}
	return num
}

// sense finds the front end, and whether readings rise or fall away from it. They can fall only where
// as many graduations as are seen find room between the stated front and the ruler's zero; then both
// are tried, and where the longest lines suit both, they fall: rulers begin at zero.
func (c candidate) sense(front *float64, rising numbering, forward int) (numbering, ruler.Step, bool) {
	end, ok := frontOf(c.row, &c.scale, forward, c.known(front, rising))
	if front == nil {
		return rising, end, ok
	}
	falling := numbering{step: -rising.step}
	known := c.known(front, falling)
	other, found := frontOf(c.row, &c.scale, forward, known)
	if !found || !known.tells(c.scale.Index(other.T)) || *front < c.reach(other)*math.Abs(falling.step) {
		return rising, end, ok
	}
	return falling, other, true
}

// reach is how many graduations are seen from an edge to the far end of the row.
func (c candidate) reach(s ruler.Step) float64 {
	at := c.scale.Index(s.T)
	m := c.row.Marks
	return max(math.Abs(at-float64(m[0].Index)), math.Abs(at-float64(m[len(m)-1].Index)))
}

// acrossTravel says which two ways a ruler of a direction can travel in the picture.
func acrossTravel(dir ruler.Point) note.Note {
	if math.Abs(dir.X) > math.Abs(dir.Y) {
		return note.Of("across-travel", "level")
	}
	return note.Of("across-travel", "upright")
}

// numberAlone numbers the lines of a picture of which nothing is known, from the first line seen,
// rising to the right or down. Which line is the zero line is not told by an end: rulers end behind
// their last line alike.
func (c candidate) numberAlone(r *ruler.Reading) numbering {
	num := numbering{step: r.Graduation, zero: float64(c.row.Marks[0].Index)}
	if d := c.row.Dir; d.X < -level || (math.Abs(d.X) <= level && d.Y < 0) {
		num = numbering{step: -r.Graduation, zero: float64(c.row.Marks[len(c.row.Marks)-1].Index)}
	}
	forward := -1
	if num.step < 0 {
		forward = +1
	}
	for _, way := range []int{forward, -forward} {
		if s, ok := frontOf(c.row, &c.scale, way, frontKnown{}); ok {
			r.Front = c.end(s)
			break
		}
	}
	return num
}
