// Package follow calibrates a run while it is shot.
//
// Nouns: an Event is what happened to the run: a picture was looked at by itself, pictures were
// taken away or are being written, or a result of all there are. What makes it look at the folder
// again is a tick of a clock, or of what stands in for one.
package follow
