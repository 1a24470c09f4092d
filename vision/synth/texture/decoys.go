package texture

import "math"

// Decoys are even things that are no rulers, by name; one unit is their period, and the field is
// meant to be seen about its origin.
func Decoys() map[string]func(Lot) Field {
	return map[string]func(Lot) Field{
		"brick wall": bricks, "fence": fence, "words": print, "sign": sign, "keyboard": keyboard,
		"radiator": radiator, "zip": zip, "crossing": crossing, "dial": dial, "cloth": weave,
		"squared paper": squared, "wood": woodGrain, "music": music, "stairs": stairs, "windows": windows,
		"bamboo mat": bamboo, "tyre": tyre, "slats": slats, "corduroy": ribs, "floor": boards,
		"hair comb": comb, "bar code": barCode, "perforations": perforations, "gauge": gauge,
	}
}

// sign is a few words in large letters.
func sign(l Lot) Field {
	im := sheet{Word(l.Name())}
	back, ink := l.Tint(l.Ratio(0.05, 0.8), 0.6), l.Tint(l.Ratio(0.02, 0.8), 0.4)
	g, gap := NewGrain(l), float64(im.im.Rect.Dx()+40)
	return func(x, y float64) Colour {
		u, v := 12*x, 12*y+25
		on := 0.0
		if part := math.Mod(math.Mod(u, gap)+gap, gap); v > 0 && v < 49 && part < gap-42 {
			on = im.at(part, v)
		}
		return back.Mix(ink, on).Times(1 + 0.06*g.Cloud(x/4, y/4))
	}
}

func keyboard(l Lot) Field {
	caps, base, ink := l.Tint(l.Ratio(0.03, 0.8), 0.1), l.Tint(0.04, 0.3), l.Tint(l.Ratio(0.02, 0.8), 0.1)
	letters, g := typeset(l, 600, 600), NewGrain(l)
	return func(x, y float64) Colour {
		v, row := wave(y)
		u, k := wave(x + []float64{0, 0.5, 0.75, 1.25}[row&3])
		on := Bar(u, 0.06, 0.94, 0.05) * Bar(v, 0.06, 0.94, 0.05)
		top := Bar(u, 0.16, 0.84, 0.1) * Bar(v, 0.12, 0.78, 0.1)
		mark := 0.0
		if u > 0.3 && u < 0.6 && v > 0.3 && v < 0.6 {
			mark = letters.at(40*(u-0.3)+37*float64(k), 40*(v-0.3)+29*float64(row))
		}
		c := caps.Times(0.55 + 0.45*top + 0.03*g.At(20*x, 20*y))
		return base.Mix(c.Mix(ink, mark), on)
	}
}

func radiator(l Lot) Field {
	c, back, g := l.Tint(l.Span(0.5, 0.8), 0.05), plain(l), NewGrain(l)
	tall := l.Span(7, 14)
	return func(x, y float64) Colour {
		u, _ := wave(x)
		fin := math.Sin(math.Pi * u)
		v := y / tall
		in := Bar(v, -0.5, 0.5, 0.004)
		if math.Abs(v) > 0.42 { // the collectors
			fin = 0.75 + 0.25*math.Cos(18*(math.Abs(v)-0.46))
		}
		return back(x, y).Mix(c.Times(0.12+0.88*math.Pow(fin, 0.6)+0.03*g.At(x, y/4)), in)
	}
}

func zip(l Lot) Field {
	cloth, tooth := weave(l), l.Tint(l.Ratio(0.1, 0.7), 0.25)
	wide := l.Span(1, 2.2)
	return func(x, y float64) Colour {
		u, k := wave(x)
		side := 2*float64(k&1) - 1
		on := Bar(u, 0.15, 0.85, 0.1) * Bar(y, -wide+0.5*side, wide+0.5*side, 0.15)
		tape := cloth(3*x, 3*y).Times(1 - 0.4*Bar(math.Abs(y), wide+2, wide+2.4, 0.1))
		return tape.Mix(tooth.Times(0.4+0.6*math.Sin(math.Pi*u)), on)
	}
}

func crossing(l Lot) Field {
	g, h, long := NewGrain(l), NewGrain(l), l.Span(3, 7)
	worn := l.Span(0.1, 0.7)
	return func(x, y float64) Colour {
		u, _ := wave(x)
		road := Grey(0.08).Times(1 + 0.5*g.At(30*x, 30*y) + 0.25*g.Cloud(x, y))
		paint := Bar(u, 0.25, 0.75, 0.04) * Bar(y, -long/2, long/2, 0.05) * (1 - worn*Edge(h.Cloud(4*x, 4*y), 0.1, 0.4))
		return road.Mix(Grey(0.7), paint)
	}
}

// dial is an instrument with graduations of three lengths round its face.
func dial(l Lot) Field { return round(l, l.Span(9, 16), 1) }

// gauge is a part of such a face, its arc less bent.
func gauge(l Lot) Field { return round(l, l.Span(22, 40), 0.7) }

func round(l Lot, r, arc float64) Field {
	face, ink, back := l.Tint(Pick(l, 0.7, 0.03), 0.1), l.Tint(Pick(l, 0.03, 0.04), 0.2), plain(l)
	if face.Bright() < 0.2 {
		ink = Grey(0.75)
	}
	n := math.Round(2 * math.Pi * r)
	hand := l.Span(-math.Pi, math.Pi)
	return func(x, y float64) Colour {
		y += r * (1 - arc) * 2
		d, a := math.Hypot(x, y), math.Atan2(y, x)
		if d > 1.25*r {
			return back(x, y)
		}
		part, k := wave(a/(2*math.Pi)*n + 0.5)
		long := 0.06
		if k%5 == 0 {
			long = 0.1
		}
		if k%10 == 0 {
			long = 0.15
		}
		on := Bar(part, 0.4, 0.6, 0.08) * Bar(d/r, 1-long, 1, 0.01)
		turn := math.Remainder(a-hand, 2*math.Pi)
		on = max(on, Bar(turn*d, -0.25, 0.25, 0.1)*Bar(d/r, 0, 0.85, 0.01))
		rim := Bar(d/r, 1.12, 1.25, 0.02)
		return face.Mix(ink, on).Mix(Grey(0.3), rim)
	}
}

func music(l Lot) Field {
	g, paper := NewGrain(l), l.Tint(l.Span(0.6, 0.85), 0.04)
	return func(x, y float64) Colour {
		v, k := wave(y)
		on := 0.0
		if (k%9+9)%9 < 5 {
			on = 0.8 * Bar(v, 0.44, 0.56, 0.05)
		}
		u, i := wave(x / 1.7)
		note, staff := 4*g.Cell(i, 0), math.Floor(y/9)*9+2.5
		if n := math.Hypot((u-0.4)*1.7/1.3, (y-staff-note)*1.1); n < 0.55 {
			on = 1
		}
		on = max(on, Bar(u, 0.68, 0.74, 0.03)*Bar(y, staff+note-3, staff+note, 0.1))
		return paper.Mix(Grey(0.03), on)
	}
}

func stairs(l Lot) Field {
	g, c := NewGrain(l), l.Tint(l.Ratio(0.15, 0.5), 0.1)
	ridges := l.Chance(0.5)
	return func(x, y float64) Colour {
		u, k := wave(x)
		light := 0.45 + 0.5*Bar(u, 0.35, 1, 0.03) - 0.3*Bar(u, 0.28, 0.36, 0.03)
		if ridges {
			light *= 0.75 + 0.25*math.Sin(2*math.Pi*6*x)
		}
		return c.Times(light + 0.05*g.Cell(k, 0) + 0.08*g.At(9*x, 9*y))
	}
}

func windows(l Lot) Field {
	g, wall, pane := NewGrain(l), l.Tint(l.Ratio(0.15, 0.6), 0.2), l.Tint(0.06, 0.4)
	tall := l.Span(1.2, 2)
	return func(x, y float64) Colour {
		u, i := wave(x)
		v, k := wave(y / tall)
		on := Bar(u, 0.25, 0.75, 0.03) * Bar(v, 0.2, 0.75, 0.03)
		frame := Bar(u, 0.48, 0.52, 0.02) + Bar(v, 0.45, 0.49, 0.02)
		glass := pane.Mix(Grey(0.7), 0.3*(1+g.Cell(i, k))).Mix(wall, min(1, frame))
		return wall.Times(1+0.07*g.Cloud(3*x, 3*y)).Mix(glass, on)
	}
}

func bamboo(l Lot) Field {
	g := NewGrain(l)
	c, long := Colour{0.5, 0.38, 0.16}.Mix(l.Tint(0.3, 0.4), 0.4), l.Span(9, 20)
	return func(x, y float64) Colour {
		u, k := wave(x)
		thread, _ := wave(y / long)
		light := 0.15 + 0.85*math.Sqrt(max(0, math.Sin(math.Pi*u)))
		return c.Times(light+0.15*g.Cell(k, 0)+0.08*g.At(8*x, y/2)).Mix(Grey(0.6), 0.8*Bar(thread, 0.48, 0.52, 0.01))
	}
}

func tyre(l Lot) Field {
	g, lean := NewGrain(l), l.Span(0.2, 1)
	return func(x, y float64) Colour {
		u, k := wave(x + lean*math.Abs(y)/2)
		v, _ := wave(y / 2.5)
		block := Bar(u, 0.15, 0.85, 0.06) * Bar(v, 0.1, 0.9, 0.04)
		return Grey(0.02 + 0.07*block*(1+0.15*g.Cell(k, 1)+0.2*g.At(7*x, 7*y)))
	}
}

func comb(l Lot) Field {
	c, back, long := l.Tint(l.Ratio(0.03, 0.5), 0.4), plain(l), l.Span(8, 18)
	return func(x, y float64) Colour {
		u, _ := wave(x)
		tooth := Bar(u, 0.25, 0.75, 0.08) * Bar(y, -long, 0, 0.3)
		spine := Bar(y, 0, 4, 0.2)
		return back(x, y).Mix(c.Times(0.7+0.3*math.Cos(y/3)), max(tooth, spine)*Bar(x, -45, 45, 0.2))
	}
}

func barCode(l Lot) Field {
	g, paper, back := NewGrain(l), l.Tint(0.75, 0.05), plain(l)
	return func(x, y float64) Colour {
		_, k := wave(x)
		on := 0.0
		if g.Cell(k, 0) > 0 && math.Abs(x) < 48 {
			on = Bar(y, -14, 14+3*float64(k/24&1), 0.3)
		}
		label := Bar(x, -56, 56, 0.5) * Bar(y, -18, 20, 0.5)
		return back(x, y).Mix(paper.Mix(Grey(0.03), on), label)
	}
}

func perforations(l Lot) Field {
	paper, back, g := l.Tint(l.Span(0.5, 0.8), 0.2), l.Tint(l.Ratio(0.02, 0.2), 0.3), NewGrain(l)
	printed := typeset(l, 700, 300)
	return func(x, y float64) Colour {
		u, _ := wave(x)
		hole := 1 - Edge(math.Hypot(u-0.5, y), 0.3, 0.06)
		c := paper.Times(1+0.03*g.At(5*x, 5*y)).Mix(Grey(0.1), 0.8*printed.at(7*x, 7*y)*Edge(math.Abs(y), 2, 0.2))
		return c.Mix(back, hole)
	}
}
