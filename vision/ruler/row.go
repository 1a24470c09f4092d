package ruler

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

// Cells are the tones seen where a coded ruler would have its code: the k-th lies between the
// marks of index First+k and First+k+1. Tones are parts of the full range; below 0 where the
// place lies outside the picture.
type Cells struct {
	First int
	Tone  []float64
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

// Within says whether a place along the axis lies between the first mark and the last.
func (r Row) Within(t float64) bool {
	return len(r.Marks) > 0 && t > r.Marks[0].T && t < r.Marks[len(r.Marks)-1].T
}

// Mid is the middle of the mark at t, of the length of the shortest.
func (r Row) Mid(t float64) Point { return r.Axis().Mid(t) }

// Axis is the line that the row runs along.
func (r Row) Axis() Axis {
	return Axis{r.Origin, r.Dir, r.Lean, r.LeanTurn, r.Middle, r.MiddleTurn}
}
