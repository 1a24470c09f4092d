package ruler

import "leadmark/fit/note"

// Status says what became of a picture.
type Status string

// The three ends a picture can come to, as formats.md names them.
const (
	StatusRead    Status = "read"
	StatusRefused Status = "refused"
	StatusLeftOut Status = "left_out"
)

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
	Reason      note.Note // why it was not read
	Graduation  float64   // m, finest graduation
	Unit        string    // "mm", "inch" or "" when the marks do not tell
	Absolute    bool      // readings count from the ruler's own zero
	Falling     bool      // readings fall away from the front end: it is the ruler's far one
	Coded       bool      // they were read from the ruler's code
	CodeSeen    bool      // the ruler has a code, be it legible or not
	Scale       Scale
	PxPerM      float64 // px per metre in the middle of what is seen
	Front       *End    // nil when no end is in the picture
	Graduations Graduations
	Outline     [4]Point // corners of the part of the ruler that was found
	U           float64  // standard uncertainty of one place on the scale, px
	Tone        float64  // of the ruler between its marks, 0 to 1
	Twin        *Twin    // where two flashes show the ruler twice; the rest is by the first
	Warnings    []note.Note
}

// Twin is how far the ruler moved from the first of two flashes to the second.
type Twin struct {
	Moved  float64 // m, by the ruler's own graduations
	U      float64 // m, standard uncertainty
	Apart  float64 // m, by the two front ends, for a check
	Second End     // front end by the second flash
}
