// Package plan says, before any animal is brought in, where a subject will be when the flash fires,
// and from that how to frame, focus and light it:
//
//	subject.toml, flags --subject.Load--> subject.Subject (checked, SI units)
//	a rig's calibration in force --LagOf--> predict.Law, the law of the next trip's lag
//	Request{Subject, predict.Law, rig.Profile, Options} --Make--> Plan
//	Plan --NewDocument--> plan.json ("leadmark/plan/1")
//
// Nouns: a trip is one subject breaking the beam once; the lead is how far its nose is past the trip
// point at the flash; the reach is the box that holds the whole body with a stated probability. Axes:
// along is the mean horizontal travel in the picture's plane, up is against gravity, depth is toward the
// camera; the origin is the trip point at the middle of the opening. Lengths are metres, times seconds,
// angles radians, light is counted in stops.
//
// Probabilities are found by drawing trips (sequence.go, trip.go) from a fixed seed: the same seed gives
// the same answer, and each answer states its error. Formulas name their source where they stand.
package plan
