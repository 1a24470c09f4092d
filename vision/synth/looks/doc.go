// Package looks draws kinds of rulers: a Look is a body of some material with one Scale or more
// printed on it, and says which colour it has at a place of its face and how much of a place is
// ink. All lists every kind there is; a new one is drawn in looks.go.
//
// On a ruler, u is the reading in metres (it grows from the front end backwards) and v the distance
// from the long axis, such that (u, v) = (right, down) shows numerals the right way round.
package looks
