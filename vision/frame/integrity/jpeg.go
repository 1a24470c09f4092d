package integrity

import (
	"bytes"
	"encoding/binary"
)

func walkJPEG(data []byte) (Header, *Fault) {
	w := jpegWalk{data: data, pos: 2, whole: map[int][64]bool{}}
	for {
		code, bad := w.marker()
		if bad != nil {
			return Header{}, bad
		}
		if code == mEOI {
			break
		}
		if bad := w.segment(code); bad != nil {
			return Header{}, bad
		}
	}
	if bad := w.complete(); bad != nil {
		return Header{}, bad
	}
	return Header{Format: formatJPEG, Width: w.frame.width, Height: w.frame.height, Exif: w.exif},
		nil
}

// segment handles one marker segment and leaves pos after it.
func (w *jpegWalk) segment(code byte) *Fault {
	if !segmentMarker(code) {
		return Faultf("damaged", "JPEG marker FF%02X at byte %d cannot stand there", code, w.pos-2)
	}
	body, bad := w.body()
	if bad != nil {
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
	return nil
}

// body returns the segment's payload, from behind its length.
func (w *jpegWalk) body() ([]byte, *Fault) {
	rest := w.data[w.pos:]
	if len(rest) < 2 {
		return nil, jpegCut()
	}
	n := int(binary.BigEndian.Uint16(rest))
	if n < 2 {
		return nil, Faultf("damaged", "the JPEG segment at byte %d states a length of %d", w.pos, n)
	}
	if n > len(rest) {
		return nil, jpegCut()
	}
	w.pos += n
	return rest[2:n], nil
}

// complete says whether all that a decoder needs was seen before the end of the image: of a
// progressive picture, all coefficients to their last bit.
func (w *jpegWalk) complete() *Fault {
	if !w.frame.seen {
		return Faultf("damaged", "the JPEG ends before its frame header")
	}
	for _, p := range w.frame.parts {
		for _, whole := range w.whole[p.id] {
			if !whole {
				return Faultf("truncated",
					"the JPEG ends before its last scans, so that it is coarse or lacks a "+
						"colour; copy it from the card again")
			}
		}
	}
	return nil
}

func (w *jpegWalk) frameHeader(code byte, b []byte) *Fault {
	switch {
	case w.frame.seen:
		return Faultf("damaged", "the JPEG has a second frame header")
	case code > mSOF2:
		return Faultf("unsupported-format",
			"the JPEG is of a rare kind (lossless, hierarchical or arithmetic coding); export it "+
				"as an ordinary JPEG")
	case len(b) < 6 || len(b) < 6+3*int(b[5]) || b[5] == 0:
		return Faultf("damaged", "the JPEG's frame header is too short")
	case b[0] != 8:
		return Faultf("unsupported-format", "the JPEG has %d bits a sample; export it with 8", b[0])
	}
	f := jpegFrame{seen: true, progressive: code == mSOF2,
		height: int(binary.BigEndian.Uint16(b[1:])), width: int(binary.BigEndian.Uint16(b[3:]))}
	for i := range int(b[5]) {
		c := b[6+3*i:]
		p := jpegPart{int(c[0]), int(c[1] >> 4), int(c[1] & 15)}
		if p.h < 1 || p.h > 4 || p.v < 1 || p.v > 4 {
			return Faultf("damaged", "the JPEG's frame header states impossible sampling factors")
		}
		f.parts = append(f.parts, p)
		f.hMax, f.vMax = max(f.hMax, p.h), max(f.vMax, p.v)
	}
	w.frame = f
	return checkSize(f.width, f.height)
}

// huffmanTables keeps the shortest code length of each table (T.81, B.2.4.2): scans are held
// against it.
func (w *jpegWalk) huffmanTables(b []byte) *Fault {
	for len(b) > 0 {
		if len(b) < 17 || b[0]>>4 > 1 || b[0]&15 > 3 {
			return Faultf("damaged", "a Huffman table of the JPEG is broken")
		}
		codes, shortest := 0, 0
		for i, n := range b[1:17] {
			codes += int(n)
			if n > 0 && shortest == 0 {
				shortest = i + 1
			}
		}
		if len(b) < 17+codes {
			return Faultf("damaged", "a Huffman table of the JPEG is too short")
		}
		w.shortest[b[0]>>4][b[0]&15] = shortest
		b = b[17+codes:]
	}
	return nil
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
