// Package native is pixel's Library by way of libraries in C: OpenCV moves pixels and works on
// shapes, libjpeg-turbo decodes and encodes JPEGs. No Mat leaves it. Pictures are checked before
// OpenCV sees them, because an OpenCV exception would end the process; libjpeg's errors jump back
// into its own functions here (jpegdecode.c).
package native
