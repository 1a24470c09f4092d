// Package plane is the geometry of flat things before a pinhole camera: points, the projective map
// from a plane in millimetres to a picture in pixels, and the pose that makes one. Pixel (0, 0) has
// its centre at the origin, x to the right, y down.
package plane
