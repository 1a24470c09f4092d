// Package predict says what the next trip's value will be, a lag, a speed or a heading, from what
// few values taught: the predictive distribution, Student's t or the normal.
//
// Nouns: a Law is the distribution of the next value; Known is how well its mean and standard
// deviation are known; a Sampler draws from a law by evenly spread numbers. Its step:
//
//	mean, standard deviation, Known --Next--> Law --NewSampler--> Sampler --Draw--> values
//
// It serves the plan of a picture. Where the lag of a calibration run's next shot falls is told by
// fit/nextshot, from all that the run taught.
//
// Units are the caller's.
package predict
