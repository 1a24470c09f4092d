// Package fit turns numbers into estimates: the lag of a rig and its spread from the advances of
// a ruler, with intervals that hold as often as they say.
//
// A [Run] is a set of [Shot] values (advance, speed or drop, added delay, and the uncertainties of
// each); [Lag] returns a [Result]. What a run cannot tell is nil there and explained in
// Result.Notes; what to shoot to learn it is in Result.Advice.
//
// The model, with s the advance, v the speed at the trip point, d the added delay, a the
// acceleration (gravity for a drop, else 0), L the lag and b the true trip place:
//
//	tau_i = L + d_i + e_i                        e_i normal, standard deviation "spread"
//	s_i   = b + v_i tau_i + a_i tau_i^2/2 + reading error
//
// It is fitted as a mixed linear model around the solution (package mixed): shot-by-shot errors make
// the diagonal of the covariance, an error shared by the shots of one stated height makes a block of
// it, and errors shared by the whole run (gravity, tape, trip place) are unknowns with a known
// spread of their own. The spread is estimated by restricted maximum likelihood and every interval
// integrates over it (docs/method.md), the next shot's is calibrated near a spread of nil (package
// interval). Shots that do not fit the others are weighed down (package outlier).
//
// Result carries what a metrologist signs with: Result.Budget (JCGM 100), to which [Propagate] sets
// a Monte Carlo propagation (JCGM 101), Result.Odd (what odd shots change) and Result.Checks (is it
// one lag? package onelag). Package design says what to shoot next to reach a goal, from
// an [Outlook]; package drift holds calibrations against each other over time.
//
// All values are SI (m, s, m/s); what is drawn at random is drawn from fixed seeds and nothing
// reads the clock, so equal input gives equal figures to the last digit. The caller's slices are
// not touched.
package fit
