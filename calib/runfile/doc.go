// Package runfile reads what people state of a run: run.toml, shots.csv, corrections.toml, a table
// of advances read elsewhere, the slates in the frames and the flags that stand in for keys. It
// also begins those files and adds to them.
//
//	run.toml, shots.csv, corrections.toml, flags --Load--> Run (checked, SI units)
//	frames, slates seen, a plan --Start--> run.toml and shots.csv to fill in
//
// Nouns: a Run is what a folder says of its frames, Conditions how one shot was made, Corrections
// what a person put right, a Slate what stands in a frame for the shots behind it, a Goal the
// uncertainty that the shooting is to reach. All lengths are metres, times seconds and angles
// radians; millimetres and milliseconds appear only in File, ShotCells and the cells of tables, and
// there in every name.
//
// What a person got wrong in a file or on the command line is an *input.Error. A key that is not
// known is refused by input.DecodeStrict; those that are stand in File.
package runfile
