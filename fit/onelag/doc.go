// Package onelag asks whether a run has one lag, or one that changes with what was done.
//
// [Checks] makes of a fitted [Run] a list of [Check]: does the lag drift over the shooting order,
// differ after a pause, with the rest before a shot or between exposure settings, or fall into two
// groups? All but the last are F tests of columns added to the fitted model ([Effects]). They are
// held together to one level, so that a sound run seldom raises any alarm.
package onelag
