// Package mixed fits a linear model with errors of several kinds, and integrates over how far its
// values scatter.
//
//	r = X b + e,  cov(e) = diag(stated + t slope^2) + sum over blocks z z'
//
// A [Model] is a model linearised at some unknowns: residuals, their derivatives, what is stated of
// each value's variance, and errors that several values share. The part t of the variance that
// nobody stated is looked for on a path, whose place y is one number ([Model.Maximise]); a [Point]
// is all that is known of the fit at one place, a [Posterior] the probability of each place, from
// which the law of an unknown follows ([Posterior.Column]).
//
// It knows nothing of rigs: package fit makes a Model of a run.
package mixed
