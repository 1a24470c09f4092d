package frame

import "time"

// Frame is one photograph: its file and what the file says of how it was taken.
// Zero values mean that the file does not say.
type Frame struct {
	Name   string // file name without folder
	Path   string
	Format string // "jpeg", "png" or "tiff"
	Digest string // SHA-256 of the file's bytes, hex

	// Size and Modified are the file's before it was read: by them a later look can tell that it is the same still.
	Size     int64
	Modified time.Time

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

	// Doubt says what of the EXIF block could not be believed; empty where all was well or
	// where there is no such block.
	Doubt string
}

// The three kinds of picture that are read, as Frame.Format names them.
const (
	formatJPEG = "jpeg"
	formatPNG  = "png"
	formatTIFF = "tiff"
)

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
	Code, Text string // short stable code and a sentence for a person
}
