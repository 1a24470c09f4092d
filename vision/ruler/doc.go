// Package ruler has the nouns of a picture of a ruler: what is seen in it (a Sighting, its Rows of
// Marks and Steps), what is said of the ruler beforehand (a Spec, a Hint), and what is read (a
// Reading, with the Scale that places are read by). The steps from the one to the other stand in the
// rooms below: scale, coded, doubleflash, and reading, which uses them all.
//
// Places are in pixels of the picture as displayed (x right, y down, (0, 0) the centre of the
// top-left pixel); lengths on the ruler are in metres. A mark is a graduation as seen; a row is
// the marks of one scale; an index counts marks along a row; a step is an edge across the
// ruler; the front end is the step that trips the beam.
package ruler
