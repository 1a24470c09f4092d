package ruler

// candidate is a row that can be graduations, with its scale.
type candidate struct {
	row     Row
	lattice lattice
	lengths *rowLengths // nil where the row was not read by them
	matches []match     // every pattern's best
	match   match       // the pattern believed, zero where none is
	score   float64
	coded   bool     // a code stands beside the row
	code    *codeFix // what it says; nil where it was not read
	refusal Reason   // why a code that was read is not to be believed
}

func (c candidate) middle() Point {
	return c.row.Origin.Add(c.row.Dir.Mul(c.lattice.place(c.lattice.mid)))
}
