package plan

import (
	"leadmark/calib/plan/light"
	"leadmark/calib/plan/reach"
	"leadmark/fit/note"
)

// Plan is the answer. Nil stands for what the rig's description does not suffice for; Warnings say
// so.
type Plan struct {
	Request  Request
	Delay    float64 // s, added
	Lead     reach.Lead
	Reach    reach.Box
	Framing  *Framing
	Focus    *Focus
	Light    *light.Light
	Chance   *Chance
	Trips    []Trips
	Changes  []Change
	Moment   *reach.Moment
	Backdrop *Backdrop
	Paths    []reach.Path // of a few trips, for the drawn set
	Drawn    int          // trips drawn in all, for the reach and for what was asked of it
	Warnings []note.Note
	Cautions []note.Note
}

// Trips is how many trips bring one keeper with a confidence; N is 0 where none will do.
type Trips struct {
	Confidence float64
	N          int
}
