// Package terminal is how anything is shown on a terminal: made visible where it would act on it,
// broken into lines and laid out in columns by what will be seen, with a bar for long work.
//
// All output of a command goes through a Writer. A Printer prints lines to it; Table and Answers
// lay out columns, Wrap and Hanging break paragraphs, JSON prints documents.
package terminal
