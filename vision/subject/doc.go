// Package subject finds the animals in a frame, before a set that is known empty.
//
// A Finder learns the empty set from a frame of it or from the run of frames. What differs from it,
// by more than noise, the flash's strength and shadows explain, falls into blobs; each becomes an
// animal.Animal with its outline, the front of its body and how blurred its edges are. Finding
// works on the picture reduced, edges and cut-outs on the whole one.
package subject
