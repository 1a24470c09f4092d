// Package frame lists the photographs of a folder and says what each file tells of itself: its
// kind, its size as displayed, and how it was taken (EXIF). It decodes no pixels.
//
// It is the first step of the flow: frames -> marks -> readings -> observations -> estimate.
//
// # Nouns
//
// A Frame is one photograph that can be decoded: its file was followed to its end first
// (integrity). A Refusal is a file with a picture's name that cannot, with a short stable code. A
// Difference is a setting that is not the same in all frames: the lag belongs to one set-up.
//
// # RAW files
//
// Of a RAW file the largest embedded JPEG is the picture, displayed as the RAW file's orientation
// says. What the RAW file's own EXIF block does not say is taken from the JPEG's.
//
// # Codes
//
// The refusals' codes: not-a-picture, unsupported-format, empty, truncated, damaged, too-large,
// unreadable, no-preview.
package frame
