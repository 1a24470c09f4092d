// Package drift holds calibrations of a rig against each other over time.
//
// [Compare] tells whether two lags differ, or agree within a margin; [CompareSpread] holds two
// spreads against each other; [ControlChart] tells of a row of them which stand out. What they take
// is what a history keeps: fit's estimates.
package drift
