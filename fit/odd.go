package fit

// Odd says what the odd shots change: the estimates as reported, with those shots weighed down,
// beside the estimates with every shot counted in full.
type Odd struct {
	Shots       []int     // places in Run.Shots
	Lag         *Estimate // s, with every shot counted in full; nil when it cannot be told then
	Spread      *Estimate // s, likewise
	LagChange   float64   // s, Lag with every shot minus Result.Lag; 0 when either is missing
	SpreadRatio float64   // spread with every shot over Result.Spread; 0 when either is missing or nil
}
