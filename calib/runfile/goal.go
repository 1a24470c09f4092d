package runfile

// Limits bound what is proposed to shoot next; zero where not stated.
type Limits struct {
	MaxDrop  float64 // m, longest fall that the set has room for
	MaxDelay float64 // s, longest delay that the controller can add
}

// Earlier is what an earlier calibration of the rig tells; zero where there is none.
type Earlier struct {
	Lag, Spread float64 // s; Spread 0 where it was not told, or seemed none
	Name        string  // of that calibration
}

// Goal is the standard uncertainty that the shooting is to reach; the zero Goal asks for nothing.
type Goal struct {
	U    float64 // s
	Next bool    // of the next shot's lag; else of the lag
}
