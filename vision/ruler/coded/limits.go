package coded

// The numbers by which cells are read. The code's own, which rulers were printed with, are in
// sequence.go and layout.go.
const (
	// misread is how often, of one, a cell in plain view shows the other tone: set by the views of
	// TestCodeFromAny30mm (vision), of which the printed code bears one in 29.
	misread = 0.05

	cellHidden    = 0.15 // nats of evidence lost for each cell in view that must be hidden; chosen, not studied
	cellHiddenMax = 2.0  // nats of that in all, likewise
	codeSure      = 3e3  // odds for a place in the code against chance: bears one misread cell in 29 (TestDecodeEverywhere)
	codeShortest  = 27   // cells in a row that must fit: TestDecodeNeverMisreads
	codeMargin    = 3.0  // nats by which the best place beats every other: TestDecodeNeverMisreads
	codeReach     = 5    // cells to either side that set what is dark and light: the code has both tones in any five
	codeSeen      = 8    // cells of strong tones that make a code, be it legible or not: no printed numeral covers as many

	clearTone = 0.3 // of the way from the middle to either tone, from where a cell is of one; chosen, not studied
	bothTones = 0.3 // of the clear cells must be of each tone: numerals leave more of them light
)
