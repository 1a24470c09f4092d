// Package planform is what the page of plans asks: a subject, a rig or a lag, and the settings
// about them, read from an address into a plan's request as leadmark plan reads its flags.
package planform
