package texture

import "math"

// Backdrops are the fields that may lie behind a ruler, by name; one unit is their period.
func Backdrops() map[string]func(Lot) Field {
	return map[string]func(Lot) Field{
		"plain": plain, "boards": boards, "fence": fence, "bricks": bricks, "print": print,
		"grain": woodGrain, "squared": squared, "weave": weave, "gravel": gravel, "leaves": leaves,
		"ribs": ribs, "slats": slats, "stripes": stripes,
	}
}

// Lined are those whose lines may go on where a ruler's graduations end.
func Lined() []string {
	return []string{"fence", "bricks", "print", "grain", "squared", "weave", "ribs", "slats", "stripes"}
}

func plain(l Lot) Field {
	g, c, k := NewGrain(l), l.Tint(l.Ratio(0.02, 0.6), 0.25), l.Span(0.02, 0.1)
	return func(x, y float64) Colour { return c.Times(1 + k*g.Cloud(x/30, y/30) + 0.02*g.At(3*x, 3*y)) }
}

func boards(l Lot) Field {
	grain, n := woodGrain(l), l.Span(6, 15)
	return func(x, y float64) Colour {
		part, k := wave(y / n)
		gap := 1 - 0.85*Bar(part, -0.02, 0.03, 0.01)
		return grain(x+37*float64(k), y+11*float64(k)).Times(gap * (1 + 0.1*math.Sin(7*float64(k))))
	}
}

func fence(l Lot) Field {
	g, post, behind := NewGrain(l), l.Tint(l.Ratio(0.1, 0.7), 0.15), leaves(l)
	wide, rail := l.Span(0.4, 0.8), l.Span(5, 9)
	return func(x, y float64) Colour {
		part, k := wave(x)
		on := Bar(part, 0.5-wide/2, 0.5+wide/2, 0.06)
		c := post.Times(1 + 0.15*g.Cell(k, 3) + 0.12*g.At(9*x, y) - 0.5*math.Pow(2*math.Abs(part-0.5), 4))
		r, _ := wave(y / rail)
		back := behind(2*x, 2*y).Times(0.6).Mix(post.Times(0.6), Bar(r, 0.4, 0.5, 0.02))
		return back.Mix(c, on)
	}
}

func bricks(l Lot) Field {
	g, mortar, tall := NewGrain(l), l.Tint(l.Span(0.3, 0.5), 0.1), l.Span(0.3, 0.45)
	brick, joint := Colour{0.35, 0.12, 0.07}.Mix(l.Tint(0.2, 0.4), 0.4), l.Span(0.04, 0.1)
	return func(x, y float64) Colour {
		v, row := wave(y / tall)
		u, k := wave(x + 0.5*float64(row&1))
		on := Bar(u, joint/2, 1-joint/2, 0.03) * Bar(v, joint, 1-joint, 0.08)
		c := brick.Times(1 + 0.35*g.Cell(k, row) + 0.25*g.Cloud(6*x, 6*y))
		return mortar.Times(1+0.1*g.At(9*x, 9*y)).Mix(c, on)
	}
}

func woodGrain(l Lot) Field {
	g, dark := NewGrain(l), l.Span(0.3, 0.8)
	wood := Colour{0.42, 0.24, 0.11}.Mix(l.Tint(0.3, 0.3), 0.35)
	return func(x, y float64) Colour {
		ring := x + 2.5*g.At(x/9, y/60) + 0.3*g.At(x, y/14)
		part, k := wave(ring)
		late := math.Pow(part, 3) * (1 - Edge(part, 0.97, 0.05))
		c := wood.Times(1 - dark*late*(0.7+0.3*g.Cell(k, 0)) + 0.08*g.At(12*x, y/3))
		return c
	}
}

func squared(l Lot) Field {
	paper, ink := l.Tint(l.Span(0.6, 0.85), 0.05), Pick(l, Colour{0.1, 0.25, 0.5}, Colour{0.5, 0.2, 0.1}, Grey(0.3))
	thin, fifth := l.Span(0.08, 0.16), l.Chance(0.6)
	return func(x, y float64) Colour {
		on := max(hair(x, thin, fifth), hair(y, thin, fifth))
		return paper.Mix(ink, on)
	}
}

// hair is a thin line each unit, where fifth a bolder one each fifth.
func hair(v, thin float64, fifth bool) float64 {
	part, k := wave(v + 0.5)
	much := 0.6
	if fifth && k%5 == 0 {
		thin, much = 1.7*thin, 0.95
	}
	return much * Bar(part, 0.5-thin/2, 0.5+thin/2, 0.06)
}

func weave(l Lot) Field {
	g, a, b := NewGrain(l), l.Tint(l.Ratio(0.05, 0.6), 0.3), l.Tint(l.Ratio(0.05, 0.6), 0.3)
	return func(x, y float64) Colour {
		u, i := wave(x)
		v, k := wave(y)
		over := (i+k)&1 == 0
		c, bend, n := a, u, i
		if over {
			c, bend, n = b, v, k
		}
		round := math.Sin(math.Pi * bend)
		return c.Times(0.35 + 0.65*round + 0.12*g.Cell(n, i-k) + 0.1*g.At(5*x, 5*y))
	}
}

func gravel(l Lot) Field {
	g, c := NewGrain(l), l.Tint(l.Ratio(0.08, 0.4), 0.2)
	return func(x, y float64) Colour {
		k := g.Cloud(1.3*x, 1.3*y)
		return c.Times(0.25 + 1.1*Edge(k, -0.05, 0.5) + 0.25*g.At(0.7*x+9, 0.7*y) + 0.15*g.At(6*x, 6*y))
	}
}

func leaves(l Lot) Field {
	g, h := NewGrain(l), NewGrain(l)
	c := Colour{0.08, 0.2, 0.04}.Mix(l.Tint(0.12, 0.5), 0.3)
	return func(x, y float64) Colour {
		a := g.Cloud(x/3+2*h.At(x/7, y/7), y/3)
		return c.Times(max(0.05, 0.7+1.1*a+0.3*h.At(2*x, 2*y)))
	}
}

func ribs(l Lot) Field {
	g, c := NewGrain(l), l.Tint(l.Ratio(0.05, 0.5), 0.3)
	return func(x, y float64) Colour {
		part, k := wave(x + 0.06*g.At(x/5, y/5))
		return c.Times(0.3 + 0.7*math.Sin(math.Pi*part) + 0.1*g.Cell(k, int(y)) + 0.1*g.At(8*x, 8*y))
	}
}

func slats(l Lot) Field {
	g, c, gap := NewGrain(l), l.Tint(l.Ratio(0.2, 0.8), 0.1), l.Span(0.12, 0.35)
	return func(x, y float64) Colour {
		part, k := wave(x)
		return c.Times((0.65 + 0.35*part + 0.05*g.Cell(k, 1)) * (1 - 0.85*Bar(part, 0, gap, 0.05)))
	}
}

func stripes(l Lot) Field {
	a, b, k := l.Tint(l.Ratio(0.3, 0.8), 0.3), l.Tint(l.Ratio(0.02, 0.2), 0.5), l.Span(0.25, 0.6)
	return func(x, y float64) Colour {
		part, _ := wave(x)
		return a.Mix(b, Bar(part, 0.5-k/2, 0.5+k/2, 0.06))
	}
}

// print is lines of words: runs of upright strokes with gaps.
func print(l Lot) Field {
	page := typeset(l, 900, 300)
	paper, ink := l.Tint(l.Span(0.5, 0.85), 0.08), l.Tint(0.03, 0.4)
	if l.Chance(0.25) {
		paper, ink = ink, paper
	}
	return func(x, y float64) Colour { return paper.Mix(ink, page.at(7*x, 7*y)) }
}
