package vision

/*
#include "planes.h"
*/
import "C"

import (
	"fmt"
	"image"
	"runtime"
	"unsafe"
)

// planes are a JPEG decoded once: its brightness and its two colour differences as they are stored, and the picture reduced by k. RGB of full
// size is made only where it is looked at.
type planes struct {
	layout C.struct_lm_planes
	pix    []byte
	small  *colour  // nil where it is not reduced
	lent   [][]byte // for pixels made of them
}

// planesOf decodes a JPEG's planes and reduces them by k, 1, 2, 4 or 8; nil where it has none of the usual kind (grey, CMYK, RGB).
func planesOf(data []byte, k int, m *memory) (*planes, error) {
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
	size := p.size()
	if float64(size.X)*float64(size.Y) > maxColourPixels { // the header may have changed since it was checked
		return nil, fmt.Errorf("a picture of %d x %d pixels is not decoded in colour", size.X, size.Y)
	}
	p.pix = m.bytes(int(p.layout.bytes))
	small := C.struct_lm_small{k: C.int(k)}
	if k > 1 {
		w, h := (size.X+k-1)/k, (size.Y+k-1)/k
		p.small = &colour{w, h, m.bytes(3 * w * h)}
		p.lent = append(p.lent, p.small.pix)
		sums := make([]uint16, 3*size.X)
		var pin runtime.Pinner
		defer pin.Unpin()
		pin.Pin(&p.small.pix[0])
		pin.Pin(&sums[0])
		small.out, small.sums = (*C.uchar)(unsafe.Pointer(&p.small.pix[0])), (*C.ushort)(unsafe.Pointer(&sums[0]))
	}
	C.lm_planes_decode(from, n, &p.layout, (*C.uchar)(unsafe.Pointer(&p.pix[0])), &small, &r)
	if err := jpegError(&r); err != nil {
		return p, err
	}
	bright := &gray{w: int(p.layout.stride[0]), h: int(p.layout.rows[0]), pix: p.pix}
	return p, rowsFit(bright, unitsOf(&r))
}

// free gives all memory back, that of pictures made of the planes too.
func (p *planes) free(m *memory) {
	m.free(p.pix)
	for _, b := range p.lent {
		m.free(b)
	}
}

// size is the picture's, as stored.
func (p *planes) size() image.Point { return image.Pt(int(p.layout.width), int(p.layout.height)) }

// shared is how many pixels across and down share one colour difference.
func (p *planes) shared() image.Point { return image.Pt(int(p.layout.across), int(p.layout.down)) }

// part is a part of the picture, which must lie in it, in memory that free takes back. Where brightness is levelled it is as little sharp as
// the colours.
func (p *planes) part(r image.Rectangle, level bool, m *memory) *colour {
	c := &colour{r.Dx(), r.Dy(), m.bytes(3 * r.Dx() * r.Dy())}
	p.lent = append(p.lent, c.pix)
	rows := make([]byte, 3*c.w)
	soft := C.int(0)
	if level {
		soft = 1
	}
	C.lm_planes_part(&p.layout, (*C.uchar)(unsafe.Pointer(&p.pix[0])), C.int(r.Min.X), C.int(r.Min.Y), C.int(c.w), C.int(c.h), soft,
		(*C.uchar)(unsafe.Pointer(&c.pix[0])), (*C.uchar)(unsafe.Pointer(&rows[0])))
	return c
}
