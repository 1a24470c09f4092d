package vision

import "image"

// units are a JPEG's coding units (MCU, T.81, A.2): what lies together in its data.
type units struct {
	size image.Point // of one, px of the picture as decoded
	all  int         // in the whole picture
}

// mosaic is a decoded JPEG, or its upper part, as its coding units were laid: row by row.
type mosaic struct {
	g    *gray
	w, h int // of a coding unit, px
	n    int // coding units in a row
	all  int // in the whole picture
}

// fewUnits is how many coding units a picture must have each way for its rows to tell anything.
const fewUnits = 2

// rowsFit is an error where a picture's rows do not fit together as those of a picture do.
func rowsFit(g *gray, u units) error {
	if u.size.X < 1 || u.size.Y < 2 || g.w < fewUnits*u.size.X || g.h < fewUnits*u.size.Y {
		return nil
	}
	m := mosaic{g: g, w: u.size.X, h: u.size.Y, n: (g.w + u.size.X - 1) / u.size.X, all: u.all}
	switch {
	case m.wrapped():
		return damagedJPEG("its rows do not fit together")
	case m.seamed():
		return damagedJPEG("from some place on it is brighter or darker")
	}
	return nil
}

// tone is the tone of a pixel.
func (m mosaic) tone(x, y int) int { return int(m.g.pix[y*m.g.w+x]) }
