// Package moves tells where between the frames of a run the camera was moved, by what lies still in
// them.
//
// A [Run] is its frames with their scenes and a function that compares two of them; [Find] groups
// them by where the scene lies and gives what was [Moved]. What a move means for a reading is
// package read's to say; [U] and [Warped] are how well it is known, and whether it is a plain shift.
package moves
