// Package drawing keeps a figure as a list of strokes, areas and texts, from which an SVG file and
// a PNG picture are made alike.
//
// Its nouns: a Drawing holds Items; an Ink is how the items of one class look, in colours named as
// in the style sheet, which has them for light and for dark.
package drawing
