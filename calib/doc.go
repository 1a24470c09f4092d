// Package calib turns a run into a calibration: one folder of ruler frames, and what was done
// while they were taken, become the rig's lag and its spread from shot to shot.
//
// Calibrate is the way through:
//
//	runfile.Load      run.toml, shots.csv, flags --> Run (checked, SI units)
//	read.All          Run, pictures --> Readings, looked at through a function that it is given
//	Readings.Advances Readings, a line --> read.Shot, each with its advance past the line
//	Estimate          shots, by package fit --> Result; once more from the line where the beam trips
//	record.Encode     Result --> result.json
//
// Nouns: a FrameResult is what became of one frame, a Result the estimate with its warnings and
// advice, a Trail how it came to be known. All lengths are metres, times seconds and angles
// radians.
//
// What a person got wrong in a file or on the command line is an *input.Error; frames that cannot
// give a result are an *input.NoResult. A single frame that cannot be used is never an error: it is
// a FrameResult with its reason.
package calib
