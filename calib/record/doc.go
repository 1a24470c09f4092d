// Package record writes what a run tells as result.json ("leadmark/result/1") and reads it back.
//
//	calib.Result --NewDocument--> Document --Encode--> result.json, Decode back to a Document
//
// A Document is a Result in the units of the file format, rounded to what the uncertainties
// support; its parts, called entries, are what other documents are made of too: a rig's history,
// the plan that a goal asks for. Millimetres and milliseconds appear here only, and in every name.
// What the run could not tell is absent.
package record
