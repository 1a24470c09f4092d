// Package vision turns pixels into marks: it decodes a photograph, finds rows of regular
// graduations in it, places each graduation and each edge across the ruler to a fraction of a
// pixel, and hands them on as a ruler.Sighting. It reads nothing off them: that is package
// ruler's part.
//
// It links no library in C: who uses it passes a pixel.Library in.
//
// Words: a level is a picture halved so many times; a tile is a small square of a level whose
// spectrum has one strong regular pitch; a group is a set of tiles that continue each other
// along their own axis; a strip is the picture resampled along such an axis, t along and w
// across; the plateau is the part of w where the shortest marks lie.
package vision
