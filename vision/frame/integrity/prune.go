package integrity

import (
	"encoding/binary"
	"fmt"
	"strings"
)

// Tags that are read, by their numbers in exiftool's EXIF table.
const (
	tagMake, tagModel, tagOrientation  = 0x010F, 0x0110, 0x0112
	tagExifIFD                         = 0x8769
	tagExposureTime, tagFNumber        = 0x829A, 0x829D
	tagISO                             = 0x8827
	tagTaken, TagOffsetTime, tagSubSec = 0x9003, 0x9011, 0x9291
	tagFlash, tagFocal                 = 0x9209, 0x920A
)

// Prune returns a new, small EXIF block that holds the wanted fields alone, each checked, and says
// what was wrong with the rest. The EXIF library is handed only such a block: on others a cycle of
// directories makes it run for ever, a count that overflows makes it ask for gigabytes, and one bad
// field in a directory loses all the good ones.
func Prune(data []byte) (small []byte, doubt string, err error) {
	b, first, err := openBlock(data)
	if err != nil {
		return nil, "", err
	}
	top, bad, err := b.directory(first, maxValue, topTags())
	if err != nil {
		return nil, "", err
	}
	var doubts []string
	var sub []entry
	for i, e := range top {
		if e.tag != tagExifIFD {
			continue
		}
		top = append(top[:i:i], top[i+1:]...)
		var more []uint16
		if sub, more, err = b.exifDirectory(e); err != nil {
			doubts = append(doubts, err.Error())
		}
		bad = append(bad, more...)
		break
	}
	top, bad = tiff6(top, bad)
	sub, bad = tiff6(sub, bad)
	for _, t := range bad {
		doubts = append(doubts, fmt.Sprintf("the value of tag 0x%04X is broken", t))
	}
	return b.write(top, sub), strings.Join(doubts, "; "), nil
}

// tiff6 moves fields to the bad ones that are of a type beyond TIFF 6.0's twelve, which the library
// does not know.
func tiff6(found []entry, bad []uint16) ([]entry, []uint16) {
	var known []entry
	for _, e := range found {
		if e.kind <= 12 {
			known = append(known, e)
		} else {
			bad = append(bad, e.tag)
		}
	}
	return known, bad
}

func (b block) exifDirectory(pointer entry) ([]entry, []uint16, error) {
	at := b.integers(pointer)
	if len(at) == 0 {
		return nil, nil, fmt.Errorf("the place of its main directory is not a number")
	}
	return b.directory(at[0], maxValue, exifTags())
}

// topTags are those wanted of the first directory. TIFF/EP (ISO 12234-2) has the Exif directory's
// there too.
func topTags() map[uint16]bool {
	all := exifTags()
	all[tagOrientation], all[tagExifIFD] = true, true
	return all
}

// exifTags are those wanted of the Exif directory. Some telephones keep make and model there.
func exifTags() map[uint16]bool {
	return tags(tagMake, tagModel, tagExposureTime, tagFNumber, tagISO, tagTaken, TagOffsetTime,
		tagSubSec, tagFlash, tagFocal)
}

// joinBlocks makes one EXIF block of two TIFF structures, of which one holds the first directory
// and the other the Exif directory, as CR3 files have them; nil where the first is none. Where
// their byte orders differ the second is left out.
func joinBlocks(top, sub []byte) []byte {
	b, first, err := openBlock(top)
	if err != nil {
		return nil
	}
	upper, _, err := b.directory(first, maxValue, tags(tagMake, tagModel, tagOrientation))
	if err != nil {
		return nil
	}
	upper, _ = tiff6(upper, nil)
	var lower []entry
	if s, at, err := openBlock(sub); err == nil && s.order == b.order {
		lower, _, _ = s.directory(at, maxValue, exifTags())
		lower, _ = tiff6(lower, nil)
	}
	return b.write(upper, lower)
}

func tags(list ...uint16) map[uint16]bool {
	set := map[uint16]bool{}
	for _, t := range list {
		set[t] = true
	}
	return set
}

// write lays out a block of two directories at subDirectoryAt's places; values go behind them.
func (b block) write(top, sub []entry) []byte {
	out := []byte("II*\x00")
	if b.order == byteOrder(binary.BigEndian) {
		out = []byte("MM\x00*")
	}
	out = b.order.AppendUint32(out, 8)
	pointer := entry{tag: tagExifIFD, kind: 4, count: 1,
		value: b.order.AppendUint32(nil, subDirectoryAt(len(top)))}
	top = append(top[:len(top):len(top)], pointer)
	values := subDirectoryAt(len(top)-1) + directorySize(len(sub))
	var tail []byte
	for _, dir := range [][]entry{top, sub} {
		out = b.order.AppendUint16(out, uint16(len(dir)))
		for _, e := range dir {
			out = b.order.AppendUint16(out, e.tag)
			out = b.order.AppendUint16(out, e.kind)
			out = b.order.AppendUint32(out, e.count)
			if len(e.value) <= 4 {
				out = append(out, append(e.value[:len(e.value):len(e.value)], 0, 0, 0, 0)[:4]...)
				continue
			}
			out = b.order.AppendUint32(out, values+uint32(len(tail)))
			tail = append(tail, e.value...)
		}
		out = b.order.AppendUint32(out, 0) // no further directory
	}
	return append(out, tail...)
}

func directorySize(n int) uint32 { return uint32(2 + 12*n + 4) }

// subDirectoryAt is where write puts the second directory, after a first one of n fields and the
// pointer.
func subDirectoryAt(n int) uint32 { return 8 + directorySize(n+1) }
