// Package nextshot tells where the next shot's lag will fall: the interval that holds one more value
// with 95 % probability.
//
// It integrates over the spread (mixed.Posterior). Where the spread is near nil that interval holds
// less, or more, than it says; so it is calibrated on the model itself: it is widened by a factor with
// which, at each spread near nil, runs of this design hold as much as they say (docs/method.md has
// the coverage measured).
package nextshot
