// Package vision looks at one picture: a Looker decodes a frame, finds the rows of graduations in
// it and its slate, and hands them on as a ruler.Sighting. It reads nothing off them: that is
// package reading's part. The work is done in the rooms below, each with one thing to find.
//
// It links no library in C: who uses it passes a pixel.Library in.
package vision
