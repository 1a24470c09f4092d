// Package annotate draws what was found in a frame over its picture: large, with what it says
// written below, and small for a page.
//
// Its nouns: a Mark is a stroke in pixels of the frame as displayed; the Trip is the line across
// the track; a Thumb is a small picture with its strokes beside it, so that a page can hide them.
package annotate
