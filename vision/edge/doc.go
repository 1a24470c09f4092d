// Package edge places edges and says how blurred they are.
//
// Place puts an edge of a ruler on a line, with the uncertainty of the line's place and direction:
// the edge is cut into pieces along it, each is fitted by a step between two levels of light
// blurred to a Gaussian, and a line goes through the pieces that agree.
//
// Measure takes the whole outline of an animal: all its edges are a step blurred by one Gaussian
// (lens and sensor) and one exponential decay along one direction (a flash that falls off while the
// animal moves), and it finds both. A Patch is the part of the picture that it looks at, beside the
// empty set in the same light.
package edge
