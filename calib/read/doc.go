// Package read turns the frames of a run into advances: how far behind the trip line each shot
// shows the front end of the ruler.
//
// The data go one way, and each stage is a function from values to values:
//
//	runfile.Run, Folder --Assign--> shots           what was done, and which frames are no shots
//	a few frames --survey--> Track                   what the ruler looks like and where it runs
//	frames, Track --Options.Look--> sightings        cached by picture and by what was looked for
//	sightings --followSlates--> shots                with what the slates in the frames state
//	sightings, Track --interpret--> readings         each frame by itself
//	readings --reconcile--> Readings                 moves of the camera, one width, one front end
//	Readings, a Line --Advances--> shots             that is what a lag is estimated from
//
// Nouns: a Shot is a frame, what was done and what became of it; a Track is what a few frames of a
// run show that holds for all; Readings are the reconciled readings of a run; a tripline.Line is where in
// the picture advances are counted from. A frame that cannot be used is never an error: it is a
// Shot with its reason.
//
// Pictures are looked at through a function that Options give, so that nothing here needs OpenCV.
package read
