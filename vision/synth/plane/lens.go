package plane

// Lens bends what a picture would show of a plane: a place d px from the axis is seen where it would
// stand at d (1 + Bend d^2 / Reach^2), were the lens straight (Brown 1971, the first radial term).
type Lens struct {
	Axis  Point   // px, where the lens's axis meets the picture
	Reach float64 // px; 0: a straight lens
	Bend  float64 // what is missing at Reach, barrel; negative: pincushion
}

// Straight is where a place of the picture would be seen by a straight lens.
func (l Lens) Straight(p Point) Point {
	if l.Reach == 0 {
		return p
	}
	d := p.Sub(l.Axis)
	return l.Axis.Add(d.Mul(1 + l.Bend*d.Dot(d)/(l.Reach*l.Reach)))
}

// Seen is where in the picture a place is seen that a straight lens would show at p.
func (l Lens) Seen(p Point) Point {
	const passes = 30 // each leaves a few hundredths of what was off
	q := p
	for range passes {
		q = q.Add(p.Sub(l.Straight(q)))
	}
	return q
}

// View is how a camera sees a plane: by its pose, through its lens.
type View struct {
	to, back Map
	lens     Lens
}

// NewView takes the map of a pose.
func NewView(m Map, l Lens) View { return View{m, m.Inverse(), l} }

// At is where a place of the plane, mm, is seen, px.
func (v View) At(p Point) Point { return v.lens.Seen(v.to.At(p)) }

// Back is the place of the plane that is seen at p.
func (v View) Back(p Point) Point { return v.back.At(v.lens.Straight(p)) }

// Slope is how what is seen moves when a place of the plane moves by one along x, and along y.
func (v View) Slope(p Point) (alongX, alongY Point) {
	const h = 1e-3 // mm
	by := func(d Point) Point { return v.At(p.Add(d)).Sub(v.At(p.Sub(d))).Mul(1 / (2 * h)) }
	return by(Point{X: h}), by(Point{Y: h})
}
