package vision

import (
	"gocv.io/x/gocv"
)

// OpenCV throws C++ exceptions, which end the process, where an argument is out of bounds: its functions are called here
// alone, each behind what it wants checked.

// asMat lends a picture's pixels to OpenCV; ok is false for one without pixels. The picture must outlive the Mat, which the
// caller closes.
func (g *gray) asMat() (m gocv.Mat, ok bool) {
	if g.w < 1 || g.h < 1 || len(g.pix) < g.w*g.h {
		return m, false
	}
	m, err := gocv.NewMatFromBytes(g.h, g.w, gocv.MatTypeCV8U, g.pix[:g.w*g.h])
	return m, err == nil
}

// fromMat copies a one-channel picture of 8 bits; nil where it is none of the size.
func fromMat(m gocv.Mat, w, h int) *gray {
	if m.Empty() || m.Cols() != w || m.Rows() != h || m.Type() != gocv.MatTypeCV8U {
		return nil
	}
	pix, err := m.DataPtrUint8()
	if err != nil {
		return nil
	}
	g := newGray(w, h)
	copy(g.pix, pix)
	return g
}

// turned returns the picture after an OpenCV function that only moves pixels; w x h is the size it must have then. Where
// OpenCV cannot, it is nil.
func (g *gray) turned(w, h int, move func(src gocv.Mat, dst *gocv.Mat)) *gray {
	src, ok := g.asMat()
	if !ok {
		return nil
	}
	defer src.Close()
	dst := gocv.NewMat()
	defer dst.Close()
	move(src, &dst)
	return fromMat(dst, w, h)
}
