// Package tiles searches a picture for where marks may stand in even rows: a tile is a small square
// whose spectrum has one strong regular pitch, and tiles that continue each other along that pitch
// are a Group, with an axis and a pitch along it. Search goes through the levels of a pyramid.
package tiles
