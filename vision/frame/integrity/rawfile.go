package integrity

// RawFile is what a RAW file's structure names: places where JPEGs may lie, and its own EXIF block.
type RawFile struct {
	Pieces []Piece
	Exif   [][]byte // each from its byte-order mark on; none where the file has none of its own
}
