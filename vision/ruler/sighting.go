package ruler

import "fmt"

// Sighting is all that was seen of rulers in one picture, before anything is read off it.
// Places are in pixels of the picture as displayed.
type Sighting struct {
	Width, Height int
	Rows          []Row    // rows of graduations, the best first
	Refusal       Reason   // why nothing was found; zero when Rows is not empty
	Symbol        Symbol   // a QR symbol, such as a slate's
	Backdrop      Backdrop // the scene behind the rulers
	Clips         Clips    // for people to look at
}

// Backdrop is a coarse picture of the scene, by which it shows whether the camera was moved: tones
// row by row, one place Scale px of the picture wide, and which of them a ruler may hide.
type Backdrop struct {
	Width, Height int
	Scale         float64
	Tone          []uint8
	Hidden        []bool
}

// Row is one row of graduations found along a straight axis. Along the axis, places are
// given by t, the distance from Origin in direction Dir.
type Row struct {
	Origin, Dir Point // axis, through the middle of the shortest marks' length
	// The mark at t runs Lean + LeanTurn t px along the axis for every px across it, in the
	// direction of Dir.Perp(); perspective makes the lean change along the row.
	Lean, LeanTurn float64
	LeanU          float64 // standard uncertainty of Lean, px along per px across, from the picture's noise
	// The shortest marks have their middle Middle + MiddleTurn t px across the axis.
	Middle, MiddleTurn float64
	Side               float64  // +1: the ruler's middle lies on the side of Dir.Perp(); -1: opposite
	Pitch              float64  // px, typical distance of neighbouring marks
	DarkMarks          bool     // dark marks on light
	Marks              []Mark   // in order of T
	Steps              []Step   // edges across the ruler, in order of T
	Sides              Sides    // long edges of the ruler's body, nil where not found
	HalfLength         float64  // px, half the length of the shortest marks
	SideBlur           float64  // px, standard deviation of the blur across the far long edge; 0 where not measured
	Contrast           float64  // of the marks, in units of the full tone range
	Tone               float64  // of the ruler between its marks, 0 to 1
	Noise              float64  // of the profile the marks were found in, same units
	Cells              Cells    // where a coded ruler has its code
	Twin               *TwinRow // two images of the row by a twin flash; nil where not looked for or not seen
}

// Mark is one graduation as seen.
type Mark struct {
	T        float64 // px along the axis
	U        float64 // px, standard uncertainty of T from the picture's noise
	Index    int     // counted along the axis, gaps kept
	Strength float64 // against the median mark of the row
	Length   float64 // px, how far the mark runs past the shortest ones' middle
	Cut      bool    // by the picture's border, before where the longest marks end: nothing is known by its Length
}

// Step is an edge across the ruler: a change of tone along the axis that holds over many
// lines side by side.
type Step struct {
	T        float64 // px along the axis, where the edge crosses it
	U        float64 // px, standard uncertainty of the edge's place along the axis, at the middle of Line
	WidthU   float64 // px, standard uncertainty of WidthPX; 0 where it is not known
	TurnU    float64 // rad, standard uncertainty of the edge's direction
	Line     Line    // the edge
	WidthPX  float64 // 10 % to 90 %
	Contrast float64 // tone after minus tone before, in order of T, units of the full tone range
	Coherent float64 // share of the lines side by side that agree, 0 to 1
}

// Hint narrows the search to what the other frames of a run have shown. The zero Hint searches
// everywhere.
type Hint struct {
	Dir       Point   // axis, either way; zero: any
	Toward    Point   // the way the front end points in the picture; zero: not known
	Pitch     float64 // px; 0: any
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

// MarkDir is the unit direction of the mark at t, from the ruler's edge to its middle.
func (r Row) MarkDir(t float64) Point {
	return r.Dir.Perp().Add(r.Dir.Mul(r.Lean + r.LeanTurn*t)).Unit().Mul(r.Side)
}

// Along is the place on the axis of the mark that runs through p.
func (r Row) Along(p Point) float64 {
	d := p.Sub(r.Origin)
	w := r.Dir.Cross(d)
	return (r.Dir.Dot(d) - r.Lean*w) / (1 + r.LeanTurn*w)
}

// Mid is the middle of the mark at t, of the length of the shortest.
func (r Row) Mid(t float64) Point { return r.Axis().Mid(t) }
