// Package moves tells where between the frames of a run the camera was moved, by what lies still in
// them.
//
// A [Run] is its frames with their scenes and a function that compares two of them; [Find] groups
// them by where the scene lies and gives what was [Moved]. What a move means for a reading is
// package read's to say; [U] is how well it is known, [Warped] and [Zoomed] whether it is
// what a turned camera makes.
package moves
