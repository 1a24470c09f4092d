// Package live follows runs while they are shot. A Run has one State with a revision number that
// every page sees; it is told of new ones by a stream. What is put right by hand is on the disk
// before it is answered, and the run is worked out anew.
package live
