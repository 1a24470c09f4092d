package ruler

// Mark is one graduation as seen.
type Mark struct {
	T        float64 // px along the axis
	U        float64 // px, standard uncertainty of T from the picture's noise
	Index    int     // counted along the axis, gaps kept
	Strength float64 // against the median mark of the row
	Length   float64 // px, how far the mark runs past the shortest ones' middle
	Cut      bool    // by the picture's border, before where the longest marks end: nothing is known by its Length
}

// WholeWidth is the least share of an end's lines side by side that show it: print takes less.
const WholeWidth = 0.8

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
	Face     bool    // no edge all across: past it some lines are lighter and others darker, and the ruler's face ends
	Outline  Outline // what the corners there show
}

// Outline is what the ruler's outline shows at an edge across it.
type Outline int

// What an outline can show.
const (
	GoesOn   Outline = iota // the ruler goes on
	Untold                  // nothing sure: the ruler is as dark or light as what lies about it, or covered
	MayEnd                  // nothing sure of the corners, but the ruler's face ends
	HalfEnds                // one corner, and nothing sure of the other
	Ends                    // both corners
)

const (
	// EndReach is how far past the last mark the front end is looked for, in pitches: further than
	// any blank margin.
	EndReach = 30
	// StrayMarks is how many marks past the end something on the backdrop may have been taken for.
	StrayMarks = 3.6
)
