// Package ruler reads a ruler: from the marks seen in one picture (a Sighting) it makes one
// projective scale, tells millimetres from inches by the marks' lengths, finds which edge is
// the front end, and gives a Reading, or refuses and says why.
//
// Places are in pixels of the picture as displayed (x right, y down, (0, 0) the centre of the
// top-left pixel); lengths on the ruler are in metres. A mark is a graduation as seen; a row is
// the marks of one scale; an index counts marks along a row; a step is an edge across the
// ruler; the front end is the step that trips the beam.
package ruler
