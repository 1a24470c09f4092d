package reach

// Path is the way of one trip, from the trip to the flash, and the body there.
type Path struct {
	Points [][3]float64 // of the part that breaks the beam
	Side   [][2]float64 // the body at the flash seen from the side: along, up
	Top    [][2]float64 // and from above: along, depth
}

// pathsDrawn is how many trips are drawn, and how many points each has.
const (
	pathsDrawn = 14
	pathPoints = 24
)

// Paths are the ways of a few trips, for a drawn set.
func (m *Model) Paths(seed uint64) []Path {
	q := m.sequenceFor(seed, 6)
	var all []Path
	for range pathsDrawn {
		t := m.draw(&q)
		var p Path
		for k := range pathPoints {
			at, _ := m.at(t, t.tau*float64(k)/(pathPoints-1))
			p.Points = append(p.Points, at)
		}
		p.Side, p.Top = m.outlineOf(m.body(t))
		all = append(all, p)
	}
	return all
}
