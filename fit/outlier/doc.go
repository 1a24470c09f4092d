// Package outlier finds the values that do not belong to the others of a fitted model, and weighs
// them down.
//
// A [Fit] is a model fitted, with a verdict on every value: the probability of a good one lying as
// far off from the fit of the others. [Judge] gives it for values already chosen, a [Search] chooses
// them: those far from a robust start are left out and taken back while they fit (a generalized
// extreme deviate test), and a whole batch made alike is doubted too, as a setting may be noted
// wrongly. At most half of the values are ever left out.
package outlier
