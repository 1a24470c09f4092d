package plan

// Seen is the chance that a body lies inside the reach as far as a picture shows it: along alone, and along and up together. The
// reach's own probability counts depth too, which a picture does not show.
type Seen struct{ Along, AlongUp float64 }

// SeenInside reckons that chance for a plan from as many trips as it was made from, other ones.
func SeenInside(p Plan) Seen {
	r := p.Request
	m := newModel(r.Subject, r.Lag, p.Delay)
	d := m.draws(r.Options.Draws, r.Options.Seed, 9)
	b := p.Reach
	all := d.counts(2, func(i int, yes []bool) {
		yes[0] = -d.face[behind][i] >= b.Along[0] && d.face[ahead][i] <= b.Along[1]
		yes[1] = yes[0] && -d.face[below][i] >= b.Up[0] && d.face[above][i] <= b.Up[1]
	})
	return Seen{all[0].P, all[1].P}
}
