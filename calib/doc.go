// Package calib turns a run into a calibration: one folder of ruler frames, and what was done
// while they were taken, become the rig's lag and its spread from shot to shot.
//
// The data go one way:
//
//	run.toml, shots.csv, flags --Load--> Run (checked, SI units)
//	Run, pictures --Calibrate, with a function that looks at a picture--> FrameResult
//	Run, readings made by hand --FromReadings--> FrameResult
//	FrameResult --Estimate, by package fit--> Result
//	Result --Encode--> result.json ("leadmark/result/1"), Decode back to a Document
//
// Nouns: a Run is what the folder says, Conditions how one shot was made, a FrameResult what
// became of one frame, a Result the estimate with its warnings and advice, a Document the same
// in the units of the file format. Inside the package all lengths are metres, times seconds and
// angles radians; millimetres and milliseconds appear only in RunFile and Document, which mirror
// files, and there in every name.
//
// What a person got wrong in a file or on the command line is an *input.Error; frames that cannot
// give a result are a *input.NoResult. A single frame that cannot be used is never an error: it is
// a FrameResult with its reason.
package calib
