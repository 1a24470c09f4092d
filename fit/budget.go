package fit

// Contribution is one line of an uncertainty budget (JCGM 100:2008, table H.1 and clause 8.1.6).
type Contribution struct {
	Source      string  // reading, spread, drop-height, letting-go, tape, gravity, speed, speed-repeat, trip-place, weights
	Drop        float64 // m, the stated height a line "drop-height" belongs to; else 0
	Text        string  // what it is, in words
	Kind        string  // "A": evaluated from the scatter of the shots; "B": stated beforehand
	N           int     // independent errors of this kind: the shots or heights it belongs to, 1 when common to the run
	Unit        string  // unit of Input: m, s, m/s, m/s^2 or 1
	Input       float64 // standard uncertainty of one such error; root mean square over N where they differ
	Sensitivity float64 // what all N together do to the estimate, per unit of Input: root sum of squares; sign only where N is 1
	U           float64 // standard uncertainty it gives the estimate, in the estimate's unit: |Sensitivity| Input
	Share       float64 // of the variance, 0 to 1; the shares of a budget sum to 1
}

// Budget says what makes up the standard uncertainty of one estimate: the squares of its lines' U
// sum to the square of U, which is the U of that estimate.
type Budget struct {
	Of    string // lag or trip_offset
	Unit  string // s or m
	U     float64
	DF    float64 // effective degrees of freedom of U
	Lines []Contribution
}
