// Package camera makes of light what a camera's JPEG shows of it: the lens's blur, the sensor's
// noise, a Bayer mosaic and its demosaicing, the tone curve, sharpening with its halos, and the
// compression with its thinned out colours.
package camera
