// Package unit prints quantities with their uncertainty, at the edge where people read.
// Inside the program everything is in SI base units: metres, seconds, metres per second, radians.
//
// # Nouns
//
// A Unit is what a number is shown in. A Quantity is a value with its standard uncertainty and the
// unit it is shown in.
//
// # Rules
//
// An uncertainty is given with two significant digits and its value to the same decimal place (JCGM
// 100:2008, the GUM, 7.2.6); no digit is printed that the uncertainty does not support.
package unit
