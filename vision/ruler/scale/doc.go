// Package scale takes the marks of a row for those of a ruler: it fits one projective scale to
// their places by their index (a ByIndex), and tells by the order of their lengths (a Match of a
// Pattern) which division of which unit they are, and which of them are the longest. How likely an
// order is, against lengths that are all alike or come again as they do on keys and zips, is told
// in nats.
package scale
