// Package doubleflash tells two pictures of one ruler apart where two flashes light a frame: the
// graduations stand twice at one pitch, and so does the front end. It lays the picture about a row
// out flat (a Face), looks for two combs (the lines of one class of length, as light along the axis)
// displaced against each other, coarsely and then by least squares, and for two front ends as far
// apart; from a Face to a ruler.TwinRow, or nothing where it is not sure.
package doubleflash
