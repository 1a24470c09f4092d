package pixel

import "image"

// Library is what is asked of libraries of image processing. An implementation trusts no argument:
// where it cannot do what it is asked, the picture returned is nil and nothing else happens.
type Library interface {
	// Flip exchanges rows, columns or both.
	Flip(g *Gray, way Flip) *Gray
	// Rotate turns a picture by 90 degrees.
	Rotate(g *Gray, clockwise bool) *Gray
	// Transpose exchanges rows and columns.
	Transpose(g *Gray) *Gray

	// Erode and Dilate work with a disc of radius r; what lies outside the picture counts neither
	// way. Where r < 1 they return the picture itself.
	Erode(g *Gray, r int) *Gray
	Dilate(g *Gray, r int) *Gray
	// Contours are the outer boundaries of the parts that are not 0, pixel by pixel.
	Contours(g *Gray) [][]image.Point

	// Differences sums a - b over 3 x 3 pixels by channel; at the rim the outermost pixels count
	// again for those that are missing.
	Differences(a, b *Colour, sums []int16)

	// DecodeJPEG decodes the first h rows of a JPEG at 1/denom of its size (1, 2, 4 or 8), each
	// pixel then the mean of denom x denom, into pix: w x h pixels of 1 channel (grey) or 3. Data
	// that cannot be right, which a library would fill with grey, are an error.
	DecodeJPEG(data []byte, denom, channels int, pix []byte, w, h int) (Units, error)
	// DecodePlanes decodes a JPEG's planes, and reduces them by k (1, 2, 4 or 8), into memory that
	// room lends; nil where it has none of the usual kind (grey, CMYK, RGB).
	DecodePlanes(data []byte, k int, room func(n int) []byte) (Planes, error)
	// EncodeJPEG encodes a picture at a quality of 1 to 100. Grey pictures stay grey.
	EncodeJPEG(img image.Image, quality int) ([]byte, error)
}

// Flip says what a flip exchanges.
type Flip int

// What can be exchanged.
const (
	UpDown Flip = iota
	LeftRight
	Both
)

// Planes are a JPEG decoded once: its brightness and its two colour differences as they are stored,
// and the picture reduced. RGB of full size is made only where it is looked at.
type Planes interface {
	Size() image.Point      // of the picture, as stored
	Shared() image.Point    // how many pixels across and down share one colour difference
	Bright() (*Gray, Units) // brightness, as its coding units were laid
	Small() *Colour         // the picture reduced; nil where it is not

	// Part is a part of the picture, which must lie in it, in memory that room lends. Where
	// brightness is levelled it is as little sharp as the colours.
	Part(r image.Rectangle, level bool, room func(n int) []byte) *Colour
}

// Units are a JPEG's coding units (MCU, T.81, A.2): what lies together in its data.
type Units struct {
	Size image.Point // of one, px of the picture as decoded
	All  int         // in the whole picture
}
