package native

/*
#include "planes.h"
*/
import "C"

import (
	"fmt"
	"image"
	"runtime"
	"unsafe"

	"leadmark/vision/pixel"
)

// planes are a JPEG's, decoded.
type planes struct {
	layout C.struct_lm_planes
	pix    []byte
	small  *pixel.Colour // nil where it is not reduced
	units  pixel.Units
}

// DecodePlanes decodes a JPEG's planes and reduces them by k.
func (Library) DecodePlanes(data []byte, k int, room func(n int) []byte) (pixel.Planes, error) {
	if len(data) == 0 {
		return nil, fmt.Errorf("the JPEG is empty")
	}
	p := new(planes)
	var r C.struct_lm_jpeg
	from, n := (*C.uchar)(unsafe.Pointer(&data[0])), C.size_t(len(data))
	C.lm_planes_layout(from, n, &p.layout, &r)
	if err := jpegError(&r); err != nil {
		return nil, err
	}
	if p.layout.bytes == 0 {
		return nil, nil
	}
	size := p.Size()
	if float64(size.X)*float64(size.Y) > pixel.MaxColourPixels { // the header may have changed since it was checked
		return nil, fmt.Errorf("a picture of %d x %d pixels is not decoded in colour", size.X, size.Y)
	}
	p.pix = room(int(p.layout.bytes))
	small := C.struct_lm_small{k: C.int(k)}
	if k > 1 {
		w, h := (size.X+k-1)/k, (size.Y+k-1)/k
		p.small = &pixel.Colour{W: w, H: h, Pix: room(3 * w * h)}
		sums := make([]uint16, 3*size.X)
		var pin runtime.Pinner
		defer pin.Unpin()
		pin.Pin(&p.small.Pix[0])
		pin.Pin(&sums[0])
		small.out, small.sums = (*C.uchar)(unsafe.Pointer(&p.small.Pix[0])), (*C.ushort)(unsafe.Pointer(&sums[0]))
	}
	C.lm_planes_decode(from, n, &p.layout, (*C.uchar)(unsafe.Pointer(&p.pix[0])), &small, &r)
	if err := jpegError(&r); err != nil {
		return nil, err
	}
	p.units = unitsOf(&r)
	return p, nil
}

// Size is the picture's, as stored.
func (p *planes) Size() image.Point { return image.Pt(int(p.layout.width), int(p.layout.height)) }

// Shared is how many pixels across and down share one colour difference.
func (p *planes) Shared() image.Point { return image.Pt(int(p.layout.across), int(p.layout.down)) }

// Bright is the plane of brightness.
func (p *planes) Bright() (*pixel.Gray, pixel.Units) {
	return &pixel.Gray{W: int(p.layout.stride[0]), H: int(p.layout.rows[0]), Pix: p.pix}, p.units
}

// Small is the reduced picture.
func (p *planes) Small() *pixel.Colour { return p.small }

// Part is a part of the picture.
func (p *planes) Part(r image.Rectangle, level bool, room func(n int) []byte) *pixel.Colour {
	c := &pixel.Colour{W: r.Dx(), H: r.Dy(), Pix: room(3 * r.Dx() * r.Dy())}
	rows := make([]byte, 3*c.W)
	soft := C.int(0)
	if level {
		soft = 1
	}
	C.lm_planes_part(&p.layout, (*C.uchar)(unsafe.Pointer(&p.pix[0])),
		C.int(r.Min.X), C.int(r.Min.Y), C.int(c.W), C.int(c.H), soft,
		(*C.uchar)(unsafe.Pointer(&c.Pix[0])), (*C.uchar)(unsafe.Pointer(&rows[0])))
	return c
}
