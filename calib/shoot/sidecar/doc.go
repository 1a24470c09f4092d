// Package sidecar puts a rating into the XMP sidecar of a picture, where programs that sort
// pictures look for it, and leaves whatever else stands there as it is, byte for byte.
//
// A sidecar is a file of XMP (ISO 16684-1) beside the picture, of the same name with the ending
// xmp; a rating is its xmp:Rating, from 0 to 5.
package sidecar
