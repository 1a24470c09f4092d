// Package subject is the animal that is to be photographed and its way through the beam, as a
// person describes it: subject.toml, a preset in its place, and flags for single values.
//
// Nouns: a Subject has its body's size, its speed and heading with their scatter, and its Motion
// after the trip; a Course is a measured way, a CSV file beside subject.toml; a preset is the
// subject.toml of a group of animals to begin with. Its step:
//
//	subject.toml or a preset, flags --Load, LoadPreset, Parse--> Subject (checked, SI units)
//
// The part that breaks the beam is followed: along is the mean horizontal travel in the picture's
// plane, up is against gravity; the origin is the trip point.
package subject
