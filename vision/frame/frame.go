package frame

import (
	"time"

	"leadmark/fit/note"
)

// Frame is one photograph: its file and what the file says of how it was taken.
// Zero values mean that the file does not say.
type Frame struct {
	Name   string // file name without folder
	Path   string
	Format string // of the picture: "jpeg", "png" or "tiff"
	Raw    string // of what kind of RAW file it is the largest embedded JPEG, as "CR2"; "" for none
	Digest string // SHA-256 of the file's bytes, hex
	Size   int64  // bytes of the file

	// PictureAt and PictureBytes are where in the file the picture lies: 0 and 0 for the whole of
	// it.
	PictureAt, PictureBytes int64

	// StoredWidth and StoredHeight are the raster's; Width and Height those of the picture as
	// displayed, after Orientation (EXIF 1 to 8; 1 where absent) is applied.
	StoredWidth, StoredHeight int
	Width, Height             int
	Orientation               int

	Taken     time.Time // with sub-seconds
	ZoneKnown bool      // Taken's offset from UTC was stated; else it is a wall-clock time in UTC
	Exposure  float64   // s
	FNumber   float64
	ISO       int
	Focal     float64 // m
	Make      string
	Model     string
	Flash     *Flash // EXIF flash bits; never evidence that a remote head did not fire

	// Doubt says what of the EXIF block could not be believed; nothing where all was well or
	// where there is no such block.
	Doubt note.Note
}

// Flash is the EXIF flash field taken apart (tag 0x9209).
type Flash struct {
	Fired      bool
	Return     int // 0 no detection, 2 not detected, 3 detected
	Mode       int // 0 unknown, 1 compulsory firing, 2 compulsory suppression, 3 auto
	NoFunction bool
	RedEye     bool
}

// Refusal is a file of the folder that cannot be used as a picture, and why.
type Refusal struct {
	Name, Path string
	note.Note
}
