// Package light sets the flash heads for an aperture: the powers, what they give, how long they
// flash, and what of the light at the set is left beside them.
//
// Nouns: a Head is one flash head as it is to be set, a Flash its duration (t0.1, ISO 2827), a
// Light all heads together. Its step:
//
//	heads of a rig, f-number at work, ISO --For--> Light
//
// Light is counted in stops, powers as shares of full power, times in seconds, lengths in metres.
package light
