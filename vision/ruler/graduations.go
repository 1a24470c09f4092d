package ruler

import "iter"

// Axis is the straight line that a row of graduations runs along; Row tells what the fields mean.
type Axis struct {
	Origin, Dir        Point
	Lean, LeanTurn     float64
	Middle, MiddleTurn float64
}

// Mid is the middle of the mark at t, of the length of the shortest.
func (a Axis) Mid(t float64) Point {
	w := a.Middle + a.MiddleTurn*t
	return a.Origin.Add(a.Dir.Mul(t + w*(a.Lean+a.LeanTurn*t))).Add(a.Dir.Perp().Mul(w))
}

// Graduation is one line of the ruler.
type Graduation struct {
	Reading float64 // m, from the ruler's zero when the reading is absolute
	At      Point   // at the middle of the shortest marks' length
	Seen    bool    // found in the picture; false: placed by the fitted scale
}

// Graduations are the lines of a ruler from one end of what is seen to the other, in order of their
// readings, kept in little room: a run has hundreds a frame, and thousands of frames.
type Graduations struct {
	Axis        Axis
	First, Step float64   // m, the first one's reading, and from each to the next
	T           []float32 // px along the axis
	Seen        []bool
}

// Len is how many there are.
func (g Graduations) Len() int { return len(g.T) }

// At is graduation k, from 0.
func (g Graduations) At(k int) Graduation {
	return Graduation{g.First + float64(k)*g.Step, g.Axis.Mid(float64(g.T[k])), g.Seen[k]}
}

// Ends are the first and the last; there must be one.
func (g Graduations) Ends() [2]Graduation { return [2]Graduation{g.At(0), g.At(g.Len() - 1)} }

// All goes through them.
func (g Graduations) All() iter.Seq[Graduation] {
	return func(yield func(Graduation) bool) {
		for k := range g.T {
			if !yield(g.At(k)) {
				return
			}
		}
	}
}
