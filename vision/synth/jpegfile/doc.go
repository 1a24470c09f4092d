// Package jpegfile writes a drawn picture as a camera would: a JPEG with what it says in EXIF
// (CIPA DC-008), stored turned as its orientation says.
package jpegfile
