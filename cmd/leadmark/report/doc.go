// Package report writes what people read and keep of a run, a shoot or a rig's history:
// result.json, readings.csv, report.html, the annotated frames, the contact sheet, the control
// charts.
//
// Each file is replaced in one step, and only where it is one of ours. What the files say and show
// is made in the rooms below: phrase and summary have the words, figure and annotate the pictures,
// page the pages, planprint the plan, style the look.
//
// It is the last step of the flow: it computes nothing that is not in the result, except where a
// mark falls on paper. A quantity that the run could not tell is said to be missing, with the
// reason and the remedy; it is never shown as zero.
package report
