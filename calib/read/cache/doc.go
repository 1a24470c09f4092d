// Package cache keeps what was seen in the frames of a run beside its folder, so that a second look
// reads only what changed.
//
// Nouns: a Cache is of one run and one program, an entry is a file of what was seen in one picture
// under one hint, with a check sum. Whatever is missing, damaged or not a plain file is seen anew;
// no link is followed.
//
// [Sightings] are what was seen in all frames of a run: a few at hand, the others fetched from its
// Cache when they are asked for.
package cache
