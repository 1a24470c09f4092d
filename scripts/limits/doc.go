// Command limits counts the numbers that decide how rulers are read, logs how near each came to
// deciding, and tries what becomes of the readings without it, for developers.
//
//	go run ./scripts/limits                          # counts them, a line a package
//	go run ./scripts/limits -list                    # and prints each (find.go has the rule)
//	go run ./scripts/limits -pass 2 -seed 1          # some 60 frames, to try it
//	go run ./scripts/limits -pass 120 -seed 1 -work DIR          # some 3,000, half an hour
//	go run ./scripts/limits -pass 120 -seed 1 -work DIR -trials  # and the trials, an hour more
//	go run ./scripts/limits -pass 120 -seed 1 -work DIR2 -against DIR
//
// A pass copies the tree to the working folder and instruments the copy in the manner of a coverage
// tool: each comparison of which a side is made of such numbers, and each call of min or max with
// them, tells which way it went and how near its sides came to each other. The copy then reads the
// frames that frames.go names, drawn at the seed, and the photographs of real rulers. The table tells
// which comparisons these frames never met, which always went one way, and which were often within a
// quarter.
//
// A trial forces one comparison to the way that it mostly goes, on those frames in which it went the
// other way (on all others nothing changes), or varies one number by a quarter either way on frames in
// which it was near. What changed is told against the same frames as they were read before: readings
// lost and won, what is false in them (a scale, a zero, an end, graduations beyond it) come and gone,
// and the errors over their u. -against compares the tree as it stands with another pass of the same
// frames in the same way: a rule may go where that shows nothing worse.
//
// Vary and force what keeps input safe, and you will see it hold nothing: vision/frame and vision/pixel
// are counted, logged, and never tried without.
package main
