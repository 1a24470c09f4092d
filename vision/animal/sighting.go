package animal

import "leadmark/fit/note"

// Sides of a picture, as the file formats name them.
const (
	Left   = "left"
	Right  = "right"
	Top    = "top"
	Bottom = "bottom"
)

// Sighting is what one picture shows.
type Sighting struct {
	Width, Height int
	Found         []Animal  // the largest first; none where the set is empty
	Refusal       note.Note // why the picture could not be looked at; zero where it could
	Thumb         Thumb     // a small picture of it
	// something is there, but its colour is so near the backdrop's that its outline cannot be told
	Alike bool
}

// Thumb is a small picture; a pixel of it stands for Scale x Scale of the picture.
type Thumb struct {
	Width, Height int
	Scale         float64
	JPEG          []byte
}

// Animal is one animal in a picture.
type Animal struct {
	Outline []Point  // closed, without its first point again at the end
	Box     [2]Point // smallest and largest x and y of all of it, with legs, antennae and wings
	Nose    Point    // foremost part of the body along the travel, antennae not counted
	Area    float64  // px^2
	Touches []string // sides of the picture that it is cut by, in the order left, right, top, bottom
	Margins [4]float64
	Edges   *Edges  // nil where too little of its outline is clear enough to measure
	Clipped float64 // share of its pixels in which a channel is at its end
	Clean   float64 // share of its outline that differs safely from the backdrop's colour
}

// Point is a place in a picture.
type Point struct{ X, Y float64 }

// Edges is how wide the edges of the outline are, by the direction in which they are crossed: a
// round part, which focus, diffraction and the sensor make, and a motion blur along one direction, which
// motion makes while the flash falls off. The flash is taken to fall off exponentially, as
// unquenched heads about do.
type Edges struct {
	N         int     // places measured
	Width     float64 // px, 10 to 90 % of the step, of the median place
	Blur      float64 // px, standard deviation of the round part
	Motion    float64 // px, the way moved while the flash is above a tenth of its peak (t0.1)
	Direction Point   // unit vector of the motion blur; its sense is not told
}
