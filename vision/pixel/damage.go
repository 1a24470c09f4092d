package pixel

import "fmt"

// rowsFit is an error where a picture's rows do not fit together as those of a picture do.
func rowsFit(g *Gray, u Units) error {
	if u.Size.X < 1 || u.Size.Y < 2 || g.W < fewUnits*u.Size.X || g.H < fewUnits*u.Size.Y {
		return nil
	}
	m := mosaic{g: g, w: u.Size.X, h: u.Size.Y, n: (g.W + u.Size.X - 1) / u.Size.X, all: u.All}
	switch {
	case m.wrapped():
		return Damaged("its rows do not fit together")
	case m.seamed():
		return Damaged("from some place on it is brighter or darker")
	}
	return nil
}

// Damaged is the error of a JPEG whose data cannot be right.
func Damaged(how string) error {
	return fmt.Errorf("the JPEG's data are damaged (%s); copy it from the card again", how)
}
