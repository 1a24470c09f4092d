// Package doubleflash tells two pictures of one ruler apart where two flashes light a frame: the
// graduations stand twice on one scale, and so does the front end. It lays the picture about a row
// out flat (a Face), lays two combs along it (the lines of a ruler on a scale.ByIndex, and the same moved by
// one number), coarsely and then by least squares, and joins them with two front ends as far apart; from
// a Face to a ruler.TwinRow, or nothing where it is not sure.
package doubleflash
