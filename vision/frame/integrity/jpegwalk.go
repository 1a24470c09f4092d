package integrity

import "leadmark/fit/note"

// Marker codes of ITU-T T.81, table B.1.
const (
	mSOF0, mSOF2 = 0xC0, 0xC2
	mDHT         = 0xC4
	mJPG         = 0xC8
	mDAC         = 0xCC
	mSOFLast     = 0xCF
	mRST0, mRST7 = 0xD0, 0xD7
	mSOI, mEOI   = 0xD8, 0xD9
	mSOS         = 0xDA
	mDQT, mDNL   = 0xDB, 0xDC
	mDRI         = 0xDD
	mAPP0, mAPP1 = 0xE0, 0xE1
	mAPP15, mCOM = 0xEF, 0xFE
)

// jpegWalk follows a JPEG from marker to marker. A thumbnail lies inside its segment, and further
// pictures after the end-of-image marker: neither is entered.
type jpegWalk struct {
	data     []byte
	pos      int
	frame    jpegFrame
	restart  int       // MCUs between restart markers; 0 for none
	shortest [2][4]int // shortest code length of each Huffman table, by class and number
	// coefficients of each component that the scans brought to their last bit
	whole map[int][64]bool
	exif  [][]byte
}

// jpegFrame is the frame header (SOF).
type jpegFrame struct {
	seen        bool
	progressive bool
	width       int
	height      int
	parts       []jpegPart
	hMax, vMax  int
}

// jpegPart is one component with its sampling factors.
type jpegPart struct{ id, h, v int }

// marker reads the next marker, which may be preceded by any number of fill bytes 0xFF.
func (w *jpegWalk) marker() (byte, note.Note) {
	if w.pos < len(w.data) && w.data[w.pos] != 0xFF {
		return 0, note.Of("damaged", "jpeg-marker", w.pos)
	}
	for w.pos < len(w.data) && w.data[w.pos] == 0xFF {
		w.pos++
	}
	if w.pos >= len(w.data) {
		return 0, jpegCut()
	}
	w.pos++
	return w.data[w.pos-1], note.Note{}
}

func jpegCut() note.Note {
	return note.Of("truncated", "jpeg")
}
