package frame

import "time"

// The numbers by which files are waited for and described; chosen, not studied.
const (
	// calm is how long a file must not have changed before it is opened although its end does not
	// show that it is whole.
	calm = 500 * time.Millisecond
	// patience is how long a file that is not whole must not have changed before it is given up as
	// it is.
	patience = 2 * time.Second
	// relist is how often every file is looked at; in between the folder's own time tells whether
	// files came or went.
	relist = time.Second
	// mostOpened bounds the files opened in one look, so that the first of many are told early.
	mostOpened = 16
	// leastFile is how many bytes a file must have for its end to be looked at.
	leastFile = 16

	// An exposure time is written as a fraction up to longestFraction, s, where it is one to
	// nearFraction.
	longestFraction = 0.5
	nearFraction    = 1e-3
)
