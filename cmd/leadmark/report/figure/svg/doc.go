// Package svg writes the strokes of an inline SVG: lines, rectangles, paths, texts, the marks of
// series, and the axes that place them.
//
// Its nouns: a Canvas is one drawing; an Axis maps values to its pixels. A colour is a class that a
// style sheet fills in, so that a drawing follows the light, the dark and the printed look. Texts
// are escaped here.
package svg
