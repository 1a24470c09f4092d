package native

import (
	"image"

	"gocv.io/x/gocv"

	"leadmark/vision/pixel"
)

// OpenCV throws C++ exceptions, which end the process, where an argument is out of bounds: its
// functions are called here alone, each behind what it wants checked.

// OpenCVVersion is the version of the OpenCV that the program was built with, such as 4.6.0.
func OpenCVVersion() string { return gocv.OpenCVVersion() }

// Library is OpenCV, and libjpeg-turbo for JPEGs.
type Library struct{}

var _ pixel.Library = Library{}

// Flip exchanges rows, columns or both.
func (Library) Flip(g *pixel.Gray, way pixel.Flip) *pixel.Gray {
	code := map[pixel.Flip]int{pixel.UpDown: 0, pixel.LeftRight: 1, pixel.Both: -1}[way]
	return moved(g, g.W, g.H, func(src gocv.Mat, dst *gocv.Mat) { gocv.Flip(src, dst, code) })
}

// Rotate turns by 90 degrees.
func (Library) Rotate(g *pixel.Gray, clockwise bool) *pixel.Gray {
	code := gocv.Rotate90CounterClockwise
	if clockwise {
		code = gocv.Rotate90Clockwise
	}
	return moved(g, g.H, g.W, func(src gocv.Mat, dst *gocv.Mat) { gocv.Rotate(src, dst, code) })
}

// Transpose exchanges rows and columns.
func (Library) Transpose(g *pixel.Gray) *pixel.Gray {
	return moved(g, g.H, g.W, func(src gocv.Mat, dst *gocv.Mat) { gocv.Transpose(src, dst) })
}

// Erode takes off the rim.
func (Library) Erode(g *pixel.Gray, r int) *pixel.Gray {
	return withDisc(g, r, func(src gocv.Mat, dst *gocv.Mat, disc gocv.Mat) { gocv.Erode(src, dst, disc) })
}

// Dilate puts a rim on.
func (Library) Dilate(g *pixel.Gray, r int) *pixel.Gray {
	return withDisc(g, r, func(src gocv.Mat, dst *gocv.Mat, disc gocv.Mat) { gocv.Dilate(src, dst, disc) })
}

// Contours are the outer boundaries.
func (Library) Contours(g *pixel.Gray) [][]image.Point {
	m, ok := asMat(g)
	if !ok {
		return nil
	}
	defer m.Close()
	found := gocv.FindContours(m, gocv.RetrievalExternal, gocv.ChainApproxNone)
	defer found.Close()
	return found.ToPoints()
}

// withDisc calls an OpenCV function with a disc of radius r.
func withDisc(g *pixel.Gray, r int, do func(src gocv.Mat, dst *gocv.Mat, disc gocv.Mat)) *pixel.Gray {
	if r < 1 {
		return g
	}
	disc := gocv.GetStructuringElement(gocv.MorphEllipse, image.Pt(2*r+1, 2*r+1))
	defer disc.Close()
	return moved(g, g.W, g.H, func(src gocv.Mat, dst *gocv.Mat) { do(src, dst, disc) })
}

// moved returns the picture after an OpenCV function; w x h is the size it must have then. Where
// OpenCV cannot, it is nil.
func moved(g *pixel.Gray, w, h int, move func(src gocv.Mat, dst *gocv.Mat)) *pixel.Gray {
	src, ok := asMat(g)
	if !ok {
		return nil
	}
	defer src.Close()
	dst := gocv.NewMat()
	defer dst.Close()
	move(src, &dst)
	return fromMat(dst, w, h)
}

// asMat lends a picture's pixels to OpenCV; ok is false for one without pixels. The picture must
// outlive the Mat, which the caller closes.
func asMat(g *pixel.Gray) (m gocv.Mat, ok bool) {
	if g.W < 1 || g.H < 1 || len(g.Pix) < g.W*g.H {
		return m, false
	}
	m, err := gocv.NewMatFromBytes(g.H, g.W, gocv.MatTypeCV8U, g.Pix[:g.W*g.H])
	return m, err == nil
}

// fromMat copies a one-channel picture of 8 bits; nil where it is none of the size.
func fromMat(m gocv.Mat, w, h int) *pixel.Gray {
	if m.Empty() || m.Cols() != w || m.Rows() != h || m.Type() != gocv.MatTypeCV8U {
		return nil
	}
	pix, err := m.DataPtrUint8()
	if err != nil {
		return nil
	}
	g := pixel.NewGray(w, h)
	copy(g.Pix, pix)
	return g
}
