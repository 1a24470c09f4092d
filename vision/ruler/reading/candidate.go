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
	score   float64
	coded   bool       // a code stands beside the row
	code    *coded.Fix // what it says; nil where it was not read
	refusal note.Note  // why a code that was read is not to be believed
}

func (c candidate) middle() ruler.Point {
	return c.row.Origin.Add(c.row.Dir.Mul(c.scale.Place(c.scale.Mid)))
}

// behind is by how many nats another pattern is likelier than the one believed; a code leaves none.
func (c candidate) behind() float64 {
	most := 0.0
	if c.code != nil {
		return most
	}
	for _, m := range c.matches {
		most = max(most, m.Total()-c.match.Total())
	}
	return most
}
