// Package knock draws runs of a camera that was turned about its tripod's head, or carried aside,
// with exact known truth.
//
// A pinhole camera without distortion looks square at a track plane, on which a white ruler moves to
// the right, and at a textured backdrop plane behind it. From one frame on it is turned about a
// point behind and below its lens: the picture turns, is carried along, and the two planes move
// against each other, as the lens itself is carried. Each pixel is the mean of rays.
//
// Space is the first camera's: x to the right, y down, z away from it, metres. Nothing is shared
// with the code that finds out how the camera was moved, nor with that which draws other runs.
package knock
