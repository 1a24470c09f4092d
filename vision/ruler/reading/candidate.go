package reading

import (
	"leadmark/fit/note"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/coded"
	"leadmark/vision/ruler/scale"
)

// candidate is a row that can be graduations, with its scale.
type candidate struct {
	row     ruler.Row
	scale   scale.ByIndex
	lengths *scale.Lengths // nil where the row was not read by them
	matches []scale.Match  // every pattern's best
	match   scale.Match    // the pattern believed, zero where none is
	behind  float64        // nats, by which another pattern is likelier
	score   float64
	coded   bool       // a code stands beside the row
	code    *coded.Fix // what it says; nil where it was not read
	refusal note.Note  // why a code that was read is not to be believed
}

func (c candidate) middle() ruler.Point {
	return c.row.Origin.Add(c.row.Dir.Mul(c.scale.Place(c.scale.Mid)))
}
