package ruler

import "fmt"

// Hint narrows the search to what the other frames of a run have shown. The zero Hint searches
// everywhere.
type Hint struct {
	Dir       Point   // axis, either way; zero: any
	Toward    Point   // the way the front end points in the picture; zero: not known
	Pitch     float64 // px; 0: any
	Least     float64 // px, of the pitches that are looked for: finer graduations may be missed; 0: all are
	Near      *Line   // the axis lies near this line
	Within    float64 // px from it
	Body      float64 // px to either side of that which the ruler's body may take
	DarkMarks *bool
	Coarse    bool  // the coarsest level that shows a ruler will do, and what is one finer
	Slates    bool  // slates stand in the frames; else a symbol beside a ruler is looked for less closely
	Twin      *Spec // the ruler, where two flashes light every frame; nil: one flash
}

// Spec is what the reader is told about the ruler.
type Spec struct {
	Graduation float64  // m, finest graduation; 0: not stated
	Front      *float64 // m, reading at the front end; nil: not stated
	Band       bool     // the mark is a bold band
	BandAt     float64  // m, reading at the band's leading edge
	Toward     Point    // the way the front end points in the picture; zero: not stated
	Like       *Like    // what other frames of the run have shown; nil: nothing is known
	Twin       bool     // two flashes light the picture: the ruler stands in it twice
}

// Like is a row of graduations as other frames show it.
type Like struct {
	Pitch float64 // px
	Dir   Point   // axis, either way
	Plain bool    // there is no code beside it
}

// String says all that is stated in one line, by which two of them can be told to be the same.
func (s Spec) String() string {
	front := "not stated"
	if s.Front != nil {
		front = fmt.Sprint(*s.Front)
	}
	return fmt.Sprint(s.Graduation, front, s.Band, s.BandAt, s.Toward, s.Twin)
}

// Forward is +1 where the front end lies towards the end of a row's axis of direction dir, -1 where
// towards its beginning, 0 where that is not known.
func (s Spec) Forward(dir Point) int {
	d := dir.Dot(s.Toward)
	switch {
	case d > 0.5:
		return +1
	case d < -0.5:
		return -1
	}
	return 0
}
