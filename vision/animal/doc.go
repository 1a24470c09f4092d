// Package animal holds what one picture shows of the subject: outline, box, nose, edges' widths.
// They are plain values; package vision finds them and package shoot judges them.
//
// Places are pixels of the picture as displayed: x to the right, y down, (0, 0) the centre of the
// top-left pixel.
package animal
