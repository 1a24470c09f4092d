package native

/*
#include "sums.h"
*/
import "C"

import (
	"unsafe"

	"leadmark/vision/pixel"
)

// Differences sums the differences of two pictures of one size over 3 x 3 pixels.
func (Library) Differences(a, b *pixel.Colour, sums []int16) {
	n := 3 * a.W * a.H
	if n == 0 || a.W != b.W || a.H != b.H || len(a.Pix) < n || len(b.Pix) < n || len(sums) < n {
		return
	}
	rows := make([]int16, 4*3*a.W)
	C.lm_sums((*C.uchar)(unsafe.Pointer(&a.Pix[0])), (*C.uchar)(unsafe.Pointer(&b.Pix[0])), C.int(a.W), C.int(a.H),
		(*C.short)(unsafe.Pointer(&sums[0])), (*C.short)(unsafe.Pointer(&rows[0])))
}
