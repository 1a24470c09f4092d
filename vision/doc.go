// Package vision turns pixels into marks: it decodes a photograph, finds rows of regular
// graduations in it, places each graduation and each edge across the ruler to a fraction of a
// pixel, and hands them on as a ruler.Sighting. It reads nothing off them: that is package
// ruler's part.
//
// It links no library in C: who uses it passes a pixel.Library in.
package vision
