// Package stat is the statistics that all of the program shares: order statistics of values, and
// what a few laws of probability come to. What gonum has is taken from there.
//
// [Select], [Median], [Quantile] and [RobustSD] put the values that they are given out of order,
// which is what makes them quick; pass a copy where the order matters.
package stat
