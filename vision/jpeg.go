package vision

/*
#cgo LDFLAGS: -ljpeg
#include <stdlib.h>
#include "jpegdecode.h"
*/
import "C"

import (
	"fmt"
	"image"
	"unsafe"
)

// decodeJPEG decodes with libjpeg-turbo at 1/denom of the size (1, 2, 4 or 8), each pixel then the mean of denom x
// denom. w is the picture's width, as its header states it, and h
// the number of its rows that are wanted; pix takes them. Data that cannot be right, which the
// library would fill with grey, are an error.
func decodeJPEG(data, pix []byte, w, h, denom int) (*gray, error) {
	if len(data) == 0 || len(pix) == 0 || w < 1 || h < 1 {
		return nil, fmt.Errorf("the JPEG is empty")
	}
	g := &gray{w: (w + denom - 1) / denom, h: (h + denom - 1) / denom, pix: pix}
	u, err := runJPEG(data, denom, 1, g.pix, g.w, g.h)
	if err != nil {
		return nil, err
	}
	return g, rowsFit(g, u)
}

func damagedJPEG(how string) error {
	return fmt.Errorf("the JPEG's data are damaged (%s); copy it from the card again", how)
}

// runJPEG decodes w x h pixels of 1 or 3 channels at 1/denom of the size into pix.
func runJPEG(data []byte, denom, channels int, pix []byte, w, h int) (u units, err error) {
	if len(data) == 0 || w < 1 || h < 1 || len(pix) < w*h*channels {
		return u, fmt.Errorf("the JPEG is empty")
	}
	var r C.struct_lm_jpeg
	C.lm_jpeg_decode((*C.uchar)(unsafe.Pointer(&data[0])), C.size_t(len(data)), C.int(denom), C.int(channels),
		(*C.uchar)(unsafe.Pointer(&pix[0])), C.int(w), C.int(h), &r)
	return unitsOf(&r), jpegError(&r)
}

func unitsOf(r *C.struct_lm_jpeg) units {
	return units{size: image.Pt(int(r.across), int(r.down)), all: int(r.units)}
}

// jpegError says what kept a JPEG from being decoded.
func jpegError(r *C.struct_lm_jpeg) error {
	switch {
	case r.status == C.LM_JPEG_OTHER_SIZE:
		return fmt.Errorf("the JPEG is of another size than its header states")
	case r.status != C.LM_JPEG_OK:
		return fmt.Errorf("the JPEG cannot be decoded (%s)", C.GoString(&r.message[0]))
	case r.damaged != 0:
		return damagedJPEG(C.GoString(&r.message[0]))
	}
	return nil
}

// EncodeJPEG encodes a picture as JPEG at a quality of 1 to 100. Grey pictures stay grey.
func EncodeJPEG(img image.Image, quality int) ([]byte, error) {
	pix, stride, channels := rowsOf(img)
	b := img.Bounds()
	if b.Empty() || b.Dx() > 65500 || b.Dy() > 65500 {
		return nil, fmt.Errorf("a picture of %d x %d pixels cannot be written as JPEG", b.Dx(), b.Dy())
	}
	var out *C.uchar
	n := C.lm_jpeg_encode((*C.uchar)(unsafe.Pointer(&pix[0])), C.int(b.Dx()), C.int(b.Dy()), C.int(stride), C.int(channels), C.int(quality), &out)
	if n == 0 {
		return nil, fmt.Errorf("the JPEG could not be written")
	}
	defer C.free(unsafe.Pointer(out))
	return C.GoBytes(unsafe.Pointer(out), C.int(n)), nil
}

// rowsOf returns a picture's samples as rows of grey values or of RGB triples.
func rowsOf(img image.Image) (pix []uint8, stride, channels int) {
	b := img.Bounds()
	if g, ok := img.(*image.Gray); ok {
		return g.Pix[g.PixOffset(b.Min.X, b.Min.Y):], g.Stride, 1
	}
	stride = 3 * b.Dx()
	pix = make([]uint8, stride*b.Dy()+1) // never empty
	for y := range b.Dy() {
		row := pix[y*stride:][:stride]
		if m, ok := img.(*image.RGBA); ok {
			src := m.Pix[m.PixOffset(b.Min.X, b.Min.Y+y):]
			for x := range b.Dx() {
				copy(row[3*x:3*x+3], src[4*x:])
			}
			continue
		}
		for x := range b.Dx() {
			r, g, b, _ := img.At(b.Min.X+x, b.Min.Y+y).RGBA()
			row[3*x], row[3*x+1], row[3*x+2] = uint8(r>>8), uint8(g>>8), uint8(b>>8)
		}
	}
	return pix, stride, 3
}
