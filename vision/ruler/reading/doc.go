// Package reading makes a ruler.Reading of a ruler.Sighting, or refuses and says why: of the rows
// that are graduations for sure (a candidate each) it takes one, says which reading each of its
// marks has (its numbering, from the front end, a bold band, the code or the ruler's own zero), and
// turns the row's scale by index into one by reading.
package reading
