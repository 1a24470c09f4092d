package integrity

import "leadmark/fit/note"

// Bounds on what is opened at all. They keep the decoder, whose failures end the process, well
// inside what it can do (2^30 px a picture and 2^20 px a side) and the memory within a laptop's:
// 200 megapixels hold the largest one-shot sensors made, and take 200 MB as grey values.
const (
	MaxPixels = 200_000_000 // width times height
	MaxSide   = 65_535      // px, the most that a JPEG can state
	MaxBytes  = 512 << 20   // size of the file
)

// The three kinds of picture that are read, as Header.Format names them.
const (
	formatJPEG = "jpeg"
	formatPNG  = "png"
	formatTIFF = "tiff"
)

// Header is what a file's structure says of the picture in it.
type Header struct {
	Format        string
	Width, Height int // of the raster
	// the EXIF blocks, each from its byte-order mark on: later ones for what the earlier leave out,
	// as the JPEG's inside a RAW file
	Exif  [][]byte
	Raw   string // of what kind of RAW file the picture is a part; "" for none
	Place Piece  // where in it
}

// Piece is a run of bytes of a file.
type Piece struct{ At, Bytes int64 }

func checkSize(w, h int) note.Note {
	switch {
	case w <= 0 || h <= 0:
		return note.Of("damaged", "size", w, h)
	case w > MaxSide || h > MaxSide || int64(w)*int64(h) > MaxPixels:
		return note.Of("too-large", "picture", w, h, MaxPixels/1_000_000, MaxSide)
	}
	return note.Note{}
}

// TooLarge says that a file of so many bytes is not opened.
func TooLarge(size int64) note.Note {
	return note.Of("too-large", "file", size>>20, MaxBytes>>20)
}

// NotRead says that a kind of picture is not read, and what to do.
func NotRead(kind string) note.Note {
	switch kind {
	case "HEIF", "AVIF":
		return note.Of("unsupported-format", "heif", kind)
	}
	return note.Of("unsupported-format", "kind", kind)
}

func ceilDiv(a, b int) int { return (a + b - 1) / b }
