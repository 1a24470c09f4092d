// Package rig keeps rig profiles: what a rig is made of, as a person describes it, and its
// calibrations over time.
//
// A profile is one folder below the profiles' root: rig.toml, written by a person and never
// changed by the program, and calibrations.jsonl, to which each accepted calibration is added as
// one line. Lines are only ever added: whole, under a lock, synced to the disk before Append
// returns. A last line that a crash left torn is moved to a file beside and said.
//
// Nouns: a Profile is rig.toml in SI units; an Entry is one accepted calibration, a result
// without its frames; a History is all of them. What a person got wrong is a *input.Error.
package rig
