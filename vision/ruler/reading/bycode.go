package reading

import (
	"math"

	"leadmark/fit/note"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/coded"
	"leadmark/vision/ruler/scale"
)

// readCode looks for the code beside a row and, where it is read, takes pattern and phase from
// it. The long graduations must not speak clearly for other tens.
func (c *candidate) readCode(spec ruler.Spec) {
	mm := scale.Patterns()[0]
	if spec.Like != nil && spec.Like.Plain || spec.Graduation > 0 && !scale.IsStated(mm.Graduation, spec) {
		return
	}
	fix, seen, ok := coded.Decode(c.row)
	c.coded = seen
	if !ok {
		return
	}
	c.code = &fix
	best, there := c.matches[0], c.lengths.At(mm, fix.Zero).Evidence
	if best.Evidence > max(0, there)+phaseSure {
		c.refusal = note.New("code-disagrees")
	}
	if row := c.row; fix.Sense != int(row.Side) {
		c.refusal = note.New("mirrored")
	}
	c.match = scale.Match{Pattern: mm, Phase: fix.Zero, Evidence: max(0, there) + fix.Evidence}.Stated(spec)
}

// numberByCode numbers the lines as the code says, and finds the front end or the band where they
// are in the picture.
func (c candidate) numberByCode(r *ruler.Reading, spec ruler.Spec) numbering {
	num := numbering{zero: float64(c.code.Zero), step: float64(c.code.Sense) * r.Graduation}
	r.Absolute, r.Coded = true, true
	forward := -c.code.Sense
	switch way := spec.Forward(c.row.Dir); {
	case c.refusal.Code != "":
		r.Status, r.Reason = ruler.StatusRefused, c.refusal
	case way != 0 && way != forward:
		r.Status, r.Reason = ruler.StatusRefused, note.New("code-reversed")
	}
	if s, ok := c.endByCode(num, spec, forward); ok {
		r.Front = c.end(s)
	}
	return num
}

// endByCode finds the front end, or the band, where the code lets it be.
func (c candidate) endByCode(num numbering, spec ruler.Spec, forward int) (ruler.Step, bool) {
	at := func(reading float64) frontKnown {
		return frontKnown{index: num.zero + reading/num.step, period: notPeriodic}
	}
	reading := func(s ruler.Step) float64 { return num.reading(c.scale.Index(s.T)) }
	switch {
	case spec.Band:
		s, ok := c.band(forward, at(spec.BandAt))
		return s, ok && math.Abs(reading(s)-spec.BandAt) < nearEnd
	case spec.Front != nil:
		s, ok := frontOf(c.row, &c.scale, forward, at(*spec.Front))
		return s, ok && math.Abs(reading(s)-*spec.Front) < nearEnd
	}
	s, ok := frontOf(c.row, &c.scale, forward, frontKnown{})
	return s, ok && reading(s) < nearEnd
}
