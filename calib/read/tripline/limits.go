package tripline

// Where a line of the program's own choice lies; chosen by hand. Any line that every ruler crosses will
// do: the lag is fitted with the line's place free.
const (
	falseTrip = 6    // times the median distance from the middle, from where a front end behind is one of a false trip
	behind    = 2e-3 // m, of the line behind the rearmost front end
)
