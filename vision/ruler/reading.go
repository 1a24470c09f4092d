package ruler

// Status says what became of a picture.
type Status string

// The three ends a picture can come to, as formats.md names them.
const (
	StatusRead    Status = "read"
	StatusRefused Status = "refused"
	StatusLeftOut Status = "left_out"
)

// Reason is why a picture was not read: a short stable code and a sentence for a person.
// The zero Reason means there is none.
type Reason struct{ Code, Text string }

// String joins code and sentence as results print them.
func (r Reason) String() string {
	if r.Code == "" {
		return ""
	}
	return r.Code + ": " + r.Text
}

// Scale is the projective scale along the ruler's axis: a graduation of reading r lies at
// t = (T0 + T1 r) / (1 + T2 r) pixels from Origin in direction Dir.
type Scale struct {
	Origin, Dir Point
	// The mark at t runs Lean + LeanTurn t px along the axis for every px across it, in the
	// direction of Dir.Perp().
	Lean, LeanTurn float64
	LeanU          float64       // standard uncertainty of Lean
	Side           float64       // +1: the ruler's middle lies on the side of Dir.Perp(); -1: opposite
	Long           Line          // the ruler's long axis, along which the front end is taken
	LongU          float64       // px, standard uncertainty of its place across
	PlaceU         float64       // px along the axis, common to all marks: how truly marks are placed
	SmearU         float64       // px along the axis, common to all marks: what the movement's blur leaves open
	Edge           *Line         // the long edge beside the marks; nil where not found
	Width          float64       // m, from there to the other long edge; 0 where that was not found
	T0, T1, T2     float64       // px, px/m, 1/m
	Cov            [3][3]float64 // covariance of T0, T1, T2
	ResidualPX     float64       // r.m.s. residual of the marks that were used
	Used           int           // marks used in the fit
}

// End is an edge found across the ruler: its front end, or the leading edge of a bold band.
type End struct {
	At      Point   // where the edge meets the ruler's long axis
	Line    Line    // the edge across the ruler
	U       float64 // standard uncertainty along the axis, px
	WidthPX float64 // width of the edge, 10 % to 90 %
	Reading float64 // m, read off the ruler's own scale at the edge
}

// Reading is what one picture says. Lengths in metres, places in pixels.
type Reading struct {
	Status      Status
	Reason      Reason
	Graduation  float64 // m, finest graduation
	Unit        string  // "mm", "inch" or "" when the marks do not tell
	Absolute    bool    // readings count from the ruler's own zero
	Coded       bool    // they were read from the ruler's code
	CodeSeen    bool    // the ruler has a code, be it legible or not
	Scale       Scale
	PxPerM      float64 // px per metre in the middle of what is seen
	Front       *End    // nil when no end is in the picture
	Graduations Graduations
	Outline     [4]Point // corners of the part of the ruler that was found
	U           float64  // standard uncertainty of one place on the scale, px
	Tone        float64  // of the ruler between its marks, 0 to 1
	Twin        *Twin    // where two flashes show the ruler twice; the rest is by the first
	Warnings    []Reason
}
