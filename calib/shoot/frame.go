package shoot

import (
	"math"
	"slices"

	"leadmark/calib/plan/reach"
	"leadmark/fit/note"
	"leadmark/vision/animal"
	"leadmark/vision/frame"
)

// Status is what became of a frame.
type Status string

// The states of the file format.
const (
	Found   Status = "found"
	Empty   Status = "empty"
	Refused Status = "refused"
)

// Causes of a frame that is not sharp.
const (
	CauseMotion = "motion" // smeared along the travel
	CauseShake  = "shake"  // smeared across it: camera or set moved
	CauseFocus  = "focus"  // alike in all directions
)

// FrameResult is what one frame of a shoot came to. Lengths in metres.
type FrameResult struct {
	Name    string
	Frame   frame.Frame
	Status  Status
	Reason  note.Note // why it was refused, or what is doubtful
	Animal  *animal.Animal
	Animals int // how many were found
	Thumb   animal.Thumb

	// of the nose past the trip point; of an animal cut in front, what it had come at least
	Lead     float64
	AtLeast  bool     // the nose is past the edge of the picture
	Out      int      // 1 where that is the edge above, -1 below; 0 else
	Height   *float64 // of the nose above the middle of the opening, where that is known
	InReach  bool
	Sharp    bool
	Measured bool   // its edges could be measured
	Cause    string // why it is not sharp, one of the causes
	Clean    bool   // the backdrop can be cut away safely
	Rating   int    // 0 to 5
}

// Whole says whether an animal was found that no side of the picture cuts.
func (f FrameResult) Whole() bool { return f.Animal != nil && len(f.Animal.Touches) == 0 }

// Limits of a good frame.
const (
	// of the picture's long side: the blur that still counts as sharp on the plan's print
	printBlur  = 0.2 / 250
	leastLimit = 3.0    // px: no picture is judged finer
	mostClip   = 0.01   // share of the animal
	cleanShare = 0.9    // of the outline
	roomy      = 0.03   // of the picture's short side, to each of its sides
	tenNinety  = 2.5631 // 10 to 90 % of a Gaussian's distribution in standard deviations
)

// judge turns a sighting into a frame's result.
func (s Setup) judge(f frame.Frame, seen animal.Sighting, reach reach.Box) FrameResult {
	r := FrameResult{Name: f.Name, Frame: f, Status: Refused, Reason: seen.Refusal,
		Thumb: seen.Thumb}
	switch {
	case seen.Refusal.Code != "":
		return r
	case len(seen.Found) == 0:
		r.Status = Empty
		return r
	}
	a := seen.Found[0]
	r.Status, r.Animal, r.Animals = Found, &a, len(seen.Found)
	if seen.Alike {
		r.Reason = note.New("alike")
	} else if r.Animals > 1 {
		r.Reason = note.New("several", r.Animals)
	}
	s.place(&r, seen, reach)
	if a.Edges != nil {
		r.Measured = true
		r.Sharp, r.Cause = Sharpness(*a.Edges, s.Travel, max(seen.Width, seen.Height))
	}
	r.Clean = a.Clean >= cleanShare
	r.Rating = r.rate(min(seen.Width, seen.Height))
	return r
}

// Along is how far a place is past the trip line, along the travel; m.
func (s Setup) Along(p animal.Point) float64 {
	a, b := s.TripLine[0], s.TripLine[1]
	dx, dy := b[0]-a[0], b[1]-a[1]
	return (dx*(p.Y-a[1]) - dy*(p.X-a[0])) / (dx*s.Travel[1] - dy*s.Travel[0]) / s.Scale
}

// place tells where the animal is and whether inside the reach, as far as a picture shows it.
func (s Setup) place(r *FrameResult, seen animal.Sighting, reach reach.Box) {
	a := r.Animal
	r.Lead = s.Along(a.Nose)
	r.AtLeast = slices.Contains(a.Touches, s.front())
	if r.AtLeast {
		r.Lead = s.FieldEnd(seen.Width, seen.Height)
	}
	if r.Out = s.out(*a); r.Out != 0 && !r.AtLeast {
		r.AtLeast = true
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	up := [2]float64{math.Inf(1), math.Inf(-1)}
	for _, p := range a.Outline {
		lo, hi = min(lo, s.Along(p)), max(hi, s.Along(p))
		if s.Exit != nil {
			h := (s.Exit[1] - p.Y) / s.Scale
			up = [2]float64{min(up[0], h), max(up[1], h)}
		}
	}
	r.InReach = r.Whole() && lo >= reach.Along[0] && hi <= reach.Along[1]
	if s.Heights() {
		h := (s.Exit[1] - a.Nose.Y) / s.Scale
		r.Height = &h
		r.InReach = r.InReach && up[0] >= reach.Up[0] && up[1] <= reach.Up[1]
	}
}

// noseRoom is the share of the animal's box within which a nose by the picture's edge above or
// below is taken to be past it.
const noseRoom = 0.03

// out says whether the nose is past the picture's edge above (1) or below (-1), where heights are
// told: the animal is cut there, and what is foremost of it lies at that edge.
func (s Setup) out(a animal.Animal) int {
	room := 2 + noseRoom*max(a.Box[1].X-a.Box[0].X, a.Box[1].Y-a.Box[0].Y)
	switch {
	case !s.Heights() || slices.Contains(a.Touches, s.front()):
		return 0
	case slices.Contains(a.Touches, animal.Top) && a.Nose.Y < a.Box[0].Y+room:
		return 1
	case slices.Contains(a.Touches, animal.Bottom) && a.Nose.Y > a.Box[1].Y-room:
		return -1
	}
	return 0
}

// Heights says whether heights can be told: the opening's place is stated and the travel is level.
func (s Setup) Heights() bool { return s.Exit != nil && s.Travel[1] == 0 }

// front is the side of the picture that the travel leads to.
func (s Setup) front() string {
	switch s.Travel {
	case [2]float64{1, 0}:
		return animal.Right
	case [2]float64{-1, 0}:
		return animal.Left
	case [2]float64{0, 1}:
		return animal.Bottom
	}
	return animal.Top
}

// FieldEnd is how far past the trip line the picture ends in the travel's direction, half way up
// it; m.
func (s Setup) FieldEnd(w, h int) float64 {
	x, y := float64(w-1)/2, float64(h-1)/2
	return s.Along(animal.Point{X: x + s.Travel[0]*(x+0.5), Y: y + s.Travel[1]*(y+0.5)})
}

// Sharpness holds edges against the blur that still counts as sharp on a picture whose longer side
// is so many pixels, and says what blurs most where they are wider.
func Sharpness(e animal.Edges, travel [2]float64, long int) (sharp bool, cause string) {
	round := tenNinety * e.Blur
	switch {
	case math.Hypot(round, e.Motion) <= max(leastLimit, printBlur*float64(long)):
		return true, ""
	case round >= e.Motion:
		return false, CauseFocus
	case math.Abs(travel[0]*e.Direction.X+travel[1]*e.Direction.Y) < math.Sqrt2/2:
		return false, CauseShake
	}
	return false, CauseMotion
}

// rate gives 0 to an empty or refused frame, 1 to an animal that is cut, 2 to a whole one that is
// not sharp, 3 to a whole and sharp one with burnt highlights or a backdrop that cannot be cut away
// safely, 4 to one without these, and 5 to one that is also alone in the picture with room on all
// sides.
func (r *FrameResult) rate(short int) int {
	switch {
	case r.Animal == nil:
		return 0
	case !r.Whole():
		return 1
	case !r.Sharp:
		return 2
	case r.Animal.Clipped > mostClip || !r.Clean:
		return 3
	case r.Animals > 1 || slices.Min(r.Animal.Margins[:]) < roomy*float64(short):
		return 4
	}
	return 5
}
