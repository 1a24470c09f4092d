package subject

import "leadmark/vision/animal"

// enlarged turns an animal of the reduced picture into one of the picture.
func (s *Finder) enlarged(a animal.Animal) animal.Animal {
	k := float64(s.k)
	up := func(p animal.Point) animal.Point { return animal.Point{X: (p.X+0.5)*k - 0.5, Y: (p.Y+0.5)*k - 0.5} }
	outline := make([]animal.Point, len(a.Outline))
	for i, p := range a.Outline {
		outline[i] = up(p)
	}
	a.Outline, a.Nose, a.Area = outline, up(a.Nose), a.Area*k*k
	half := (k - 1) / 2 // to the far side of the reduced pixels
	a.Box = [2]animal.Point{up(a.Box[0]), up(a.Box[1])}
	a.Box[0].X, a.Box[0].Y, a.Box[1].X, a.Box[1].Y = a.Box[0].X-half, a.Box[0].Y-half, a.Box[1].X+half, a.Box[1].Y+half
	for i := range a.Margins {
		a.Margins[i] *= k
	}
	return a
}
