package integrity

import (
	"bytes"

	"leadmark/fit/note"
)

// scan goes through one scan: its header is given, the entropy-coded data follow at pos.
func (w *jpegWalk) scan(head []byte) note.Note {
	parts, bad := w.scanParts(head)
	if !bad.None() {
		return bad
	}
	bytesUsed, restarts, bad := w.entropyCoded()
	if !bad.None() {
		return bad
	}
	if bad := w.checkRestarts(parts, restarts); !bad.None() {
		return bad
	}
	return w.checkAmount(parts, head, bytesUsed)
}

// scanParts returns the components that the scan brings.
func (w *jpegWalk) scanParts(head []byte) ([]jpegPart, note.Note) {
	if !w.frame.seen || len(head) < 1 || head[0] < 1 || head[0] > 4 ||
		len(head) < 4+2*int(head[0]) {
		return nil, note.Of("damaged", "jpeg-scan")
	}
	var parts []jpegPart
	for i := range int(head[0]) {
		p, ok := w.part(int(head[1+2*i]))
		if !ok {
			return nil, note.Of("damaged", "jpeg-colour")
		}
		parts = append(parts, p)
	}
	return parts, w.note(parts, head[1+2*len(parts):])
}

// note marks the coefficients that the scan brings to their last bit: its spectral band, where the
// point transform is 0 (T.81, B.2.3 and G.1.1.1). A sequential scan brings all.
func (w *jpegWalk) note(parts []jpegPart, band []byte) note.Note {
	from, to, last := int(band[0]), int(band[1]), band[2]&15 == 0
	if !w.frame.progressive {
		from, to, last = 0, 63, true
	}
	if from > to || to > 63 {
		return note.Of("damaged", "jpeg-scan")
	}
	for _, p := range parts {
		whole := w.whole[p.id]
		for k := from; k <= to; k++ {
			whole[k] = last
		}
		w.whole[p.id] = whole
	}
	return note.Note{}
}

func (w *jpegWalk) part(id int) (jpegPart, bool) {
	for _, p := range w.frame.parts {
		if p.id == id {
			return p, true
		}
	}
	return jpegPart{}, false
}

// entropyCoded moves to the marker that ends the scan. It returns the bytes of coded data and the
// number of restart markers, which must come in their order.
func (w *jpegWalk) entropyCoded() (used, restarts int, bad note.Note) {
	for {
		i := bytes.IndexByte(w.data[w.pos:], 0xFF)
		if i < 0 {
			return 0, 0, jpegCut()
		}
		used += i
		w.pos += i
		at := w.pos
		code, bad := w.marker()
		switch {
		case !bad.None():
			return 0, 0, bad
		case code == 0: // a stuffed 0xFF of the data
			used++
		case mRST0 <= code && code <= mRST7:
			if w.restart == 0 || code != mRST0+byte(restarts%8) {
				return 0, 0, note.Of("damaged", "jpeg-restart", at)
			}
			restarts++
		default:
			w.pos = at
			return used, restarts, note.Note{}
		}
	}
}

// checkRestarts holds the restart markers against the MCUs of the scan (T.81, B.2.4.4). One more,
// after the last MCU, is written by some encoders and does no harm.
func (w *jpegWalk) checkRestarts(parts []jpegPart, seen int) note.Note {
	if w.restart == 0 {
		return note.Note{}
	}
	mcus := ceilDiv(w.frame.width, 8*w.frame.hMax) * ceilDiv(w.frame.height, 8*w.frame.vMax)
	if len(parts) == 1 {
		mcus = w.blocks(parts[0])
	}
	want := ceilDiv(mcus, w.restart) - 1
	if seen != want && seen != want+1 {
		return note.Of("damaged", "jpeg-restarts", seen, want)
	}
	return note.Note{}
}

// checkAmount holds the data of a sequential scan against the fewest bits that its blocks can take:
// each has one code for its mean and at least one for the rest.
func (w *jpegWalk) checkAmount(parts []jpegPart, head []byte, used int) note.Note {
	if w.frame.progressive {
		return note.Note{}
	}
	bits := 0
	for i, p := range parts {
		tables := head[2+2*i]
		bits += w.blocks(p) * (w.shortest[0][tables>>4&3] + w.shortest[1][tables&3])
	}
	if used*8 < bits {
		return note.Of("damaged", "jpeg-amount", used, bits/8)
	}
	return note.Note{}
}

// blocks is the number of 8 x 8 blocks that hold the component (T.81, A.1.1 and A.2.2).
func (w *jpegWalk) blocks(p jpegPart) int {
	f := w.frame
	return ceilDiv(ceilDiv(f.width*p.h, f.hMax), 8) * ceilDiv(ceilDiv(f.height*p.v, f.vMax), 8)
}
