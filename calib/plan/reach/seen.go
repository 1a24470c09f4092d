package reach

// Seen is the chance that a body lies inside the reach as far as a picture shows it: along alone,
// and along and up together. The reach's own probability counts depth too, which a picture does not
// show.
type Seen struct{ Along, AlongUp float64 }

// Seen reckons that chance for a box from n trips, other ones than it was made from.
func (m *Model) Seen(b Box, n int, seed uint64) Seen {
	d := m.Sample(n, seed, 9)
	all := d.Counts(2, func(i int, yes []bool) {
		yes[0] = -d.Face[Behind][i] >= b.Along[0] && d.Face[Ahead][i] <= b.Along[1]
		yes[1] = yes[0] && -d.Face[Below][i] >= b.Up[0] && d.Face[Above][i] <= b.Up[1]
	})
	return Seen{all[0].P, all[1].P}
}
