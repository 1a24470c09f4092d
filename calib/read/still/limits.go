package still

// The numbers by which rulers that lie still are told. They were chosen by hand and are held by the
// runs of scripts/readstudy that have a ruler lying beside the moving one, and by calib's tests.
const (
	// Weights of what one frame shows, natural logarithms of ratios of likelihoods, if a ruler in the
	// picture is not found one time in five, and one is found where none is, or happens to stand in a
	// place, one time in fifty. Orders of magnitude: what is decided does not hang on them.
	agrees   = 3.7  // ln(0.8/0.02): it shows what only one of the two explains
	misses   = -1.6 // ln(0.2/0.98): it lacks what should be there
	unlikely = -3.9 // ln 0.02: that the ruler that moves is found in no frame at all

	// mostCompared is how many frames are compared with each other: each with each takes long in a run
	// of thousands.
	mostCompared = 120
	// surelyOther is by how many standard uncertainties stated heights or speeds must differ to be
	// others.
	surelyOther = 4

	// samePlace is how far, in px, marks of one row may lie from those of another to be the same
	// marks of a ruler that did not move.
	samePlace = 0.5
	// mostNear is which part of the marks that both rows show must: print and shadows spoil a few.
	mostNear = 0.8
	// turnedBy, rad, and stretchedBy are what rows of one ruler may differ by; a row of which half is
	// hidden, with fewer than wholeRow of the other's marks, is known less well.
	turnedBy        = 0.02
	stretchedBy     = 0.01
	stretchedByHalf = 0.05
	wholeRow        = 2.0 / 3
	// asidePX and asidePitches are how far the axes of rows of one ruler may lie aside of each other,
	// px, and graduations more; where the row's axis is not well known, looseEnds of the marks' half
	// length at either end.
	asidePX      = 1.5
	asidePitches = 0.05
	looseEnds    = 0.5
	// lengthsApart times as much as where it is set against the other some graduations further on, a
	// row's lengths may differ from another's: scatters of tens of marks differ by less from chance.
	lengthsApart = 1.5
	// orders is how many graduations on the order of long and short marks repeats, on any ruler.
	orders = 20
)
