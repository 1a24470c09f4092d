// Package reach says where a subject's body will be when the flash fires, by drawing trips:
//
//	Subject, law of the lag, added delay --New--> Model --Sample--> Sample --Box--> Box
//
// Nouns: a trip is one subject breaking the beam once; the lead is how far its nose is past the
// trip point at the flash; the box holds the whole body with a stated probability. A Sample is many
// trips, of which shares can be counted. Axes: along is the mean horizontal travel in the picture's
// plane, up is against gravity, depth is toward the camera; the origin is the trip point at the
// middle of the opening. Lengths are metres, times seconds, angles radians.
//
// Trips are drawn from a fixed seed (sequence.go, trip.go): the same seed gives the same answer,
// and each answer states its error. Formulas name their source where they stand.
package reach
