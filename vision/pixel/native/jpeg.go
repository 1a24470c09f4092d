package native

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

	"leadmark/vision/pixel"
)

// DecodeJPEG decodes the first h rows of a JPEG with libjpeg-turbo.
func (Library) DecodeJPEG(data []byte, denom, channels int, pix []byte, w, h int) (u pixel.Units, err error) {
	if len(data) == 0 || w < 1 || h < 1 || len(pix) < w*h*channels {
		return u, fmt.Errorf("the JPEG is empty")
	}
	var r C.struct_lm_jpeg
	C.lm_jpeg_decode((*C.uchar)(unsafe.Pointer(&data[0])), C.size_t(len(data)), C.int(denom), C.int(channels),
		(*C.uchar)(unsafe.Pointer(&pix[0])), C.int(w), C.int(h), &r)
	return unitsOf(&r), jpegError(&r)
}

func unitsOf(r *C.struct_lm_jpeg) pixel.Units {
	return pixel.Units{Size: image.Pt(int(r.across), int(r.down)), All: int(r.units)}
}

// jpegError says what kept a JPEG from being decoded.
func jpegError(r *C.struct_lm_jpeg) error {
	switch {
	case r.status == C.LM_JPEG_OTHER_SIZE:
		return fmt.Errorf("the JPEG is of another size than its header states")
	case r.status != C.LM_JPEG_OK:
		return fmt.Errorf("the JPEG cannot be decoded (%s)", C.GoString(&r.message[0]))
	case r.damaged != 0:
		return pixel.Damaged(C.GoString(&r.message[0]))
	}
	return nil
}

// EncodeJPEG encodes a picture as JPEG at a quality of 1 to 100. Grey pictures stay grey.
func (Library) EncodeJPEG(img image.Image, quality int) ([]byte, error) {
	pix, stride, channels := pixel.Samples(img)
	b := img.Bounds()
	if b.Empty() || b.Dx() > 65500 || b.Dy() > 65500 {
		return nil, fmt.Errorf("a picture of %d x %d pixels cannot be written as JPEG", b.Dx(), b.Dy())
	}
	var out *C.uchar
	n := C.lm_jpeg_encode((*C.uchar)(unsafe.Pointer(&pix[0])), C.int(b.Dx()), C.int(b.Dy()),
		C.int(stride), C.int(channels), C.int(quality), &out)
	if n == 0 {
		return nil, fmt.Errorf("the JPEG could not be written")
	}
	defer C.free(unsafe.Pointer(out))
	return C.GoBytes(unsafe.Pointer(out), C.int(n)), nil
}
