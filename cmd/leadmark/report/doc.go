// Package report turns the result of a calibration run into what people read and keep: the
// answer in words, result.json, readings.csv, report.html with its figures, and the annotated
// frames.
//
// Its nouns: the Answer is the list of Lines that the terminal and the page both print, so that
// they say the same thing; a figure is an inline SVG drawn at three widths, so that its text
// never shrinks below a readable size; a card is one frame with what was found drawn on it.
//
// It is the last step of the flow: it computes nothing that is not in the result, except where
// a mark falls on paper. A quantity that the run could not tell is said to be missing, with the
// reason and the remedy; it is never shown as zero.
package report
