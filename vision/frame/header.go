package frame

import "fmt"

// Bounds on what is opened at all. They keep the decoder, whose failures end the process, well
// inside what it can do (2^30 px a picture and 2^20 px a side) and the memory within a laptop's:
// 200 megapixels hold the largest one-shot sensors made, and take 200 MB as grey values.
const (
	MaxPixels = 200_000_000 // width times height
	MaxSide   = 65_535      // px, the most that a JPEG can state
	MaxBytes  = 512 << 20   // size of the file
)

// The three kinds of picture that are read, as header.format names them.
const (
	formatJPEG = "jpeg"
	formatPNG  = "png"
	formatTIFF = "tiff"
)

// header is what a file's structure says of the picture in it.
type header struct {
	format        string
	width, height int    // of the raster
	exif          []byte // the EXIF block, from its byte-order mark on; nil where there is none
	// a second one, of the JPEG inside a RAW file, for what the first does not say
	more  []byte
	raw   string // of what kind of RAW file the picture is a part; "" for none
	piece piece  // where in it
}

// fault is why a file cannot be used: the code and sentence of a Refusal.
type fault struct{ code, text string }

// Error joins code and sentence.
func (f *fault) Error() string { return f.code + ": " + f.text }

func faultf(code, format string, a ...any) *fault { return &fault{code, fmt.Sprintf(format, a...)} }

// piece is a run of bytes of a file.
type piece struct{ at, n int64 }

func checkSize(w, h int) *fault {
	switch {
	case w <= 0 || h <= 0:
		return faultf("damaged", "the header states a picture of %d x %d px", w, h)
	case w > MaxSide || h > MaxSide || int64(w)*int64(h) > MaxPixels:
		return faultf("too-large",
			"the header states %d x %d px; at most %d megapixels and %d px a side are opened",
			w, h, MaxPixels/1_000_000, MaxSide)
	}
	return nil
}

func fileTooLarge(size int64) *fault {
	return faultf("too-large", "the file has %d MB; at most %d MB are opened", size>>20,
		MaxBytes>>20)
}

// notRead says that a kind of picture is not read, and what to do.
func notRead(kind string) *fault {
	switch kind {
	case "HEIF", "AVIF":
		return faultf("unsupported-format",
			"the file is of the kind %s, which is not read; make a JPEG of the same name of it "+
				"(on Debian: heif-convert, of the package libheif-examples) and set the camera to "+
				"JPEG or RAW + JPEG", kind)
	}
	return faultf("unsupported-format",
		"the file is of the kind %s, which is not read; export it as JPEG, PNG or TIFF of the same name",
		kind)
}

func ceilDiv(a, b int) int { return (a + b - 1) / b }
