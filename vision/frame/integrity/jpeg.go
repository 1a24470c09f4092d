package integrity

import (
	"bytes"
	"encoding/binary"

	"leadmark/fit/note"
)

func walkJPEG(data []byte) (Header, note.Note) {
	w := jpegWalk{data: data, pos: 2, whole: map[int][64]bool{}}
	for {
		code, bad := w.marker()
		if !bad.None() {
			return Header{}, bad
		}
		if code == mEOI {
			break
		}
		if bad := w.segment(code); !bad.None() {
			return Header{}, bad
		}
	}
	if bad := w.complete(); !bad.None() {
		return Header{}, bad
	}
	return Header{Format: formatJPEG, Width: w.frame.width, Height: w.frame.height, Exif: w.exif},
		note.Note{}
}

// segment handles one marker segment and leaves pos after it.
func (w *jpegWalk) segment(code byte) note.Note {
	if !segmentMarker(code) {
		return note.Of("damaged", "jpeg-misplaced", int(code), w.pos-2)
	}
	body, bad := w.body()
	if !bad.None() {
		return bad
	}
	switch {
	case code == mSOS:
		return w.scan(body)
	case code == mDHT:
		return w.huffmanTables(body)
	case code == mDRI && len(body) >= 2:
		w.restart = int(binary.BigEndian.Uint16(body))
	case code == mAPP1 && w.exif == nil:
		w.exif = exifOfAPP1(body)
	case isFrameHeader(code):
		return w.frameHeader(code, body)
	}
	return note.Note{}
}

// body returns the segment's payload, from behind its length.
func (w *jpegWalk) body() ([]byte, note.Note) {
	rest := w.data[w.pos:]
	if len(rest) < 2 {
		return nil, jpegCut()
	}
	n := int(binary.BigEndian.Uint16(rest))
	if n < 2 {
		return nil, note.Of("damaged", "jpeg-segment", w.pos, n)
	}
	if n > len(rest) {
		return nil, jpegCut()
	}
	w.pos += n
	return rest[2:n], note.Note{}
}

// complete says whether all that a decoder needs was seen before the end of the image: of a
// progressive picture, all coefficients to their last bit.
func (w *jpegWalk) complete() note.Note {
	if !w.frame.seen {
		return note.Of("damaged", "jpeg-headless")
	}
	for _, p := range w.frame.parts {
		for _, whole := range w.whole[p.id] {
			if !whole {
				return note.Of("truncated", "jpeg-scans")
			}
		}
	}
	return note.Note{}
}

func (w *jpegWalk) frameHeader(code byte, b []byte) note.Note {
	switch {
	case w.frame.seen:
		return note.Of("damaged", "jpeg-twice")
	case code > mSOF2:
		return note.Of("unsupported-format", "jpeg-rare")
	case len(b) < 6 || len(b) < 6+3*int(b[5]) || b[5] == 0:
		return note.Of("damaged", "jpeg-header")
	case b[0] != 8:
		return note.Of("unsupported-format", "jpeg-bits", int(b[0]))
	}
	f := jpegFrame{seen: true, progressive: code == mSOF2,
		height: int(binary.BigEndian.Uint16(b[1:])), width: int(binary.BigEndian.Uint16(b[3:]))}
	for i := range int(b[5]) {
		c := b[6+3*i:]
		p := jpegPart{int(c[0]), int(c[1] >> 4), int(c[1] & 15)}
		if p.h < 1 || p.h > 4 || p.v < 1 || p.v > 4 {
			return note.Of("damaged", "jpeg-sampling")
		}
		f.parts = append(f.parts, p)
		f.hMax, f.vMax = max(f.hMax, p.h), max(f.vMax, p.v)
	}
	w.frame = f
	return checkSize(f.width, f.height)
}

// huffmanTables keeps the shortest code length of each table (T.81, B.2.4.2): scans are held
// against it.
func (w *jpegWalk) huffmanTables(b []byte) note.Note {
	for len(b) > 0 {
		if len(b) < 17 || b[0]>>4 > 1 || b[0]&15 > 3 {
			return note.Of("damaged", "jpeg-table")
		}
		codes, shortest := 0, 0
		for i, n := range b[1:17] {
			codes += int(n)
			if n > 0 && shortest == 0 {
				shortest = i + 1
			}
		}
		if len(b) < 17+codes {
			return note.Of("damaged", "jpeg-table-short")
		}
		w.shortest[b[0]>>4][b[0]&15] = shortest
		b = b[17+codes:]
	}
	return note.Note{}
}

// segmentMarker says whether a marker with a length may stand between scans.
func segmentMarker(c byte) bool {
	switch {
	case c == mCOM, mAPP0 <= c && c <= mAPP15, c == mDHT, c == mDAC, mSOS <= c && c <= mDRI:
		return true
	}
	return isFrameHeader(c)
}

func isFrameHeader(c byte) bool {
	return mSOF0 <= c && c <= mSOFLast && c != mDHT && c != mJPG && c != mDAC
}

// exifOfAPP1 returns the TIFF block of an EXIF segment; nil for any other APP1, as XMP.
func exifOfAPP1(b []byte) [][]byte {
	if len(b) > 6 && bytes.HasPrefix(b, []byte("Exif\x00")) { // the sixth byte is padding
		return [][]byte{b[6:]}
	}
	return nil
}
