// Package figure draws the figures of a run and of a rig's control chart: inline SVG at three
// widths, so that its text never shrinks below a readable size, and a chart in letters for the
// terminal.
//
// Its nouns: a Figure is one drawing with its title and caption; Shots are the frames that were
// read, ready to be drawn, which the figures of one run share. A figure that the run cannot fill is
// nil.
package figure
