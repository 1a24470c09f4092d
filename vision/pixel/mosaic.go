package pixel

// mosaic is a decoded JPEG, or its upper part, as its coding units were laid: row by row.
type mosaic struct {
	g    *Gray
	w, h int // of a coding unit, px
	n    int // coding units in a row
	all  int // in the whole picture
}

// tone is the tone of a pixel.
func (m mosaic) tone(x, y int) int { return int(m.g.Pix[y*m.g.W+x]) }
