package plan

// Seen is the chance that a body lies inside the reach as far as a picture shows it: along alone, and
// along and up together. The reach's own probability counts depth too, which a picture does not show.
type Seen struct{ Along, AlongUp float64 }

// seen reckons that chance for a box from n trips, other ones than it was made from.
func (m *model) seen(b Reach, n int, seed uint64) Seen {
	d := m.draws(n, seed, 9)
	all := d.counts(2, func(i int, yes []bool) {
		yes[0] = -d.face[behind][i] >= b.Along[0] && d.face[ahead][i] <= b.Along[1]
		yes[1] = yes[0] && -d.face[below][i] >= b.Up[0] && d.face[above][i] <= b.Up[1]
	})
	return Seen{all[0].P, all[1].P}
}
