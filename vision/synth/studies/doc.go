// Package studies poses single pictures for the studies of reading, by chance from a seed: readable
// ones by class of difficulty (At), every look of ruler (Gallery), 30 mm of the coded ruler
// (CodeViewAt), and pictures in which there is no ruler to be read (UnreadableAt).
package studies
