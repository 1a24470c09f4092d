package coded

import "strconv"

// The coded ruler carries, beside its graduations, one row of cells: cell i fills the millimetre
// between the readings i and i+1 mm and is dark or light. Any Window cells in a row, read
// either way, stand in one place of the sequence only: any two windows differ in at least
// Distance cells, and in at least DistanceTens where their longest graduations stand
// in the same places.
const (
	Cells        = 800 // mm that can be told apart
	Window       = 29  // whole cells in any 30 mm
	Distance     = 6
	DistanceTens = 8
)

// sequence is the tone of each cell, a bit a cell, 1 dark, the first in the highest bit of the
// first digit. scripts/codesearch found it; coded_test.go measures its distances.
const sequence = "49af08a199bdcbcc3b4bae43b6de4462d7b92c4287963bdc91ed61ba117b085b948bd75dc228ebb9" +
	"cba35913c698a7b3d878f58a63c50bcc2984973c32e6eb43c38a14f629ef2924d14b852698cc4d74" +
	"31ce2611b0ba3668bbda5ca6d8f5bd0d73b6224e"

// Dark says whether the cell between the readings of i and i+1 mm is dark; cells outside the
// sequence are light.
func Dark(i int) bool {
	if i < 0 || i >= Cells {
		return false
	}
	digit, err := strconv.ParseUint(sequence[i/4:i/4+1], 16, 4)
	return err == nil && digit>>(3-i%4)&1 == 1
}
