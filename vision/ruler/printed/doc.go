// Package printed lays out what leadmark prints: the coded ruler as strips to glue on a lath, and
// slates, cards with a QR symbol that tell the conditions of the shots that follow.
//
// A Page is a plain list of boxes and texts at places on paper; WritePDF and WriteSVG put it into
// a file. Paper is this package's edge of the program, so its lengths are millimetres, as the
// fields' names say: x to the right and y down from the sheet's top left corner. What the ruler
// looks like, and its code, come from package coded.
package printed
