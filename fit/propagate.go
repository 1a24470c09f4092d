package fit

// Propagation is the Monte Carlo propagation of a run's uncertainties (JCGM 101:2008).
type Propagation struct {
	Draws     int
	Lag, Trip *Propagated // nil where not told
}

// Propagated is the distribution drawn for one estimate.
type Propagated struct {
	Mean, U    float64  // with the spread held at its estimate: to be set beside the budget's
	Interval95 Interval // with the spread drawn as well: to be set beside the estimate's
	BudgetU    float64  // the budget's, without its line "weights", which only the drawn spread shows
	Agrees     bool     // U and the interval's ends lie within Tolerance of the stated ones
	Tolerance  float64  // JCGM 101 clause 8: half a unit of the second digit of U, plus four standard errors of the drawing
}

// Propagate draws a run's inputs from their distributions and estimates anew each time (JCGM 101:2008 clause
// 7), with a fixed seed; result is what Lag gave for the run.
//
//	func Propagate(run Run, result Result, draws int) (Propagation, error)
