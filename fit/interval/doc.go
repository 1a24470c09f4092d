// Package interval sets the interval of the next value right where the spread is near nil.
//
// There the interval that integrates over the spread (mixed.Posterior) holds less, or more, than it
// says. It is calibrated on the model itself: [Stretch] is the factor by which to widen it so that,
// at each spread near nil, runs of this design hold as much as they say (docs/method.md has the
// coverage measured).
package interval
