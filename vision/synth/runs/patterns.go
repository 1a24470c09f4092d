package runs

import (
	"math"
	"sort"
)

// Regular things that are no rulers. Each is made anew with sizes drawn by chance; one unit is one
// period of what repeats. How such things look is common practice, no source.

// patternKinds lists them in order.
func patternKinds() []string {
	var all []string
	for k := range patterns() {
		all = append(all, k)
	}
	sort.Strings(all)
	return all
}

func patterns() map[string]func(chance) pattern {
	return map[string]func(chance) pattern{
		"fence": fence, "keyboard": keyboard, "fabric": fabric, "barcode": barcode, "grass": grass, "bricks": bricks,
		"page of text": pageOfText, "zip": zip, "comb": comb, "radiator": radiator, "blinds": blinds,
		"piano keys": pianoKeys,
		"corduroy":   corduroy, "film": film, "LED strip": ledStrip, "screw thread": screwThread, "dentils": dentils,
		"ladder": ladder, "checks": checks, "chain link": chainLink, "spiral binding": spiralBinding,
		"stitches":  stitches,
		"saw blade": sawBlade, "rack": rack, "books": books, "grid": grid, "perforated sheet": perforated,
		"ruled paper": ruledPaper, "cooling fins": coolingFins, "sleepers": sleepers, "pin header": pinHeader,
		"picket posts": picketPosts, "rope": rope, "calendar": calendar, "grille": grille,
	}
}

func frac(x float64) float64 { return x - math.Floor(x) }

// bar is 1 where x lies within width w about the middle of its period.
func bar(x, w float64) float64 {
	if math.Abs(frac(x)-0.5) < w/2 {
		return 1
	}
	return 0
}

func within(x, a, b float64) float64 {
	if x >= a && x < b {
		return 1
	}
	return 0
}

// belt is a strip of the pattern across the picture's middle; beyond it lies a plain tone.
func belt(y, half, inside, beyond float64) float64 {
	if math.Abs(y) < half {
		return inside
	}
	return beyond
}

func fence(c chance) pattern {
	w, top, jit := c.span(0.4, 0.85), c.span(3, 12), c.span(0, 0.06)
	return func(x, y float64) float64 {
		i := math.Floor(x)
		h := top * (1 + jit*(hash(int32(i), 0, 3)-0.5))
		peak := h - 0.8*math.Abs(frac(x)-0.5)
		if -y < peak && bar(x+jit*hash(int32(i), 1, 3), w) > 0 || math.Abs(y-1) < 0.3 {
			return 0.75 + 0.25*hash(int32(i), 2, 3)
		}
		return 0.1
	}
}

func keyboard(c chance) pattern {
	shift, gap := c.span(0.2, 0.5), c.span(0.06, 0.2)
	return func(x, y float64) float64 {
		row := math.Floor(y)
		if math.Abs(row) > 3 {
			return 0.8
		}
		x += shift * row
		if row == 2 { // the long key
			if x > 1 && x < 6 {
				return within(frac(y), gap, 1-gap) * 0.3
			}
		}
		key := within(frac(x), gap/2, 1-gap/2) * within(frac(y), gap/2, 1-gap/2)
		u, v := frac(x)-0.35, frac(y)-0.35
		if key > 0 && math.Hypot(u, v) < 0.2 && hash(int32(u*14),
			int32(v*14)+int32(row)*17+int32(math.Floor(x))*31, 9) > 0.45 {
			return 0.95 // a letter
		}
		return 0.15 * key
	}
}

func fabric(c chance) pattern {
	k := c.span(0.7, 1.4)
	return func(x, y float64) float64 {
		return 0.5 + 0.3*math.Sin(2*math.Pi*x)*math.Sin(2*math.Pi*k*y) + 0.2*noise(x*2, y*0.4, 5)
	}
}

func barcode(c chance) pattern {
	seed, half := uint32(c.IntN(1000)), c.span(4, 20)
	return func(x, y float64) float64 { // modules of a unit, bars of one to four
		if hash(int32(math.Floor(x)), 0, seed) > 0.5 && math.Abs(x) < 48 {
			return belt(y, half, 0, 1)
		}
		return 1
	}
}

func grass(c chance) pattern {
	lean, seed := c.span(0.05, 0.3), uint32(c.IntN(1000))
	return func(x, y float64) float64 {
		v := 0.0
		for k := range 3 {
			s := seed + uint32(k)
			u := x + lean*y*(hash(int32(math.Floor(x*0.7)), int32(k), s)-0.5) + 0.37*float64(k)
			v = max(v, (0.4+0.6*hash(int32(math.Floor(u)), int32(math.Floor(y/8)),
				s))*math.Pow(math.Abs(math.Sin(math.Pi*u)), 2))
		}
		return v
	}
}

func bricks(c chance) pattern {
	long, joint := c.span(1.8, 3.5), c.span(0.08, 0.2)
	return func(x, y float64) float64 {
		course := math.Floor(y)
		u := x/long + 0.5*math.Mod(math.Abs(course), 2)
		if frac(y) < joint || frac(u)*long < joint {
			return 0.9
		}
		return 0.25 + 0.3*hash(int32(math.Floor(u)), int32(course), 4)
	}
}

// pageOfText has lines of letter-like strokes, a unit a stroke.
func pageOfText(c chance) pattern {
	high, lead, seed := c.span(2, 4), c.span(1.5, 2.4), uint32(c.IntN(1000))
	return func(x, y float64) float64 {
		line := math.Floor(y / (high * lead))
		v := y - line*high*lead
		letter := math.Floor(x / 1.9)
		u := x - letter*1.9
		h := hash(int32(letter), int32(line), seed)
		if v > high || h > 0.87 {
			return 1
		}
		short := 0.25 * high * math.Round(hash(int32(letter), int32(line), seed+1))
		if v < short {
			return 1
		}
		stroke := within(u, 0.15, 0.5) + within(u, 1.1, 1.45)*math.Round(h+0.2) +
			within(math.Abs(v-high*(0.55+0.4*h)), 0, 0.25)*within(u, 0.15, 1.45)
		return 1 - min(1, stroke)
	}
}

func zip(c chance) pattern {
	w := c.span(0.4, 0.6)
	return func(x, y float64) float64 {
		side := math.Copysign(1, y)
		if math.Abs(y) < 1.2 {
			return bar(x+0.25*side, w)*0.9 + 0.05
		}
		return 0.3 + 0.05*math.Sin(20*x)*math.Sin(20*y) + 0.2*within(math.Abs(math.Abs(y)-2.5), 0, 0.3)*bar(x*1.3, 0.5)
	}
}

func comb(c chance) pattern {
	w, long := c.span(0.3, 0.6), c.span(5, 14)
	half := math.Floor(c.span(14, 40))
	coarse := c.span(1.2, 2.2) // the other half has wider teeth
	return func(x, y float64) float64 {
		if math.Abs(x) > half {
			return 0.9
		}
		if y < 0 && y > -2.5 {
			return 0.1
		}
		if x > 0 {
			x /= coarse
		}
		if y >= 0 && y < long {
			return 0.9 - 0.8*bar(x, w)
		}
		return 0.9
	}
}

func radiator(c chance) pattern {
	w, half := c.span(0.5, 0.8), c.span(6, 14)
	return func(x, y float64) float64 {
		round := math.Pow(math.Abs(math.Sin(math.Pi*x)), w)
		if d := math.Abs(y) - half + 1; d > 0 {
			round *= max(0, 1-d*d)
		}
		return belt(y, half, 0.2+0.8*round, 0.5)
	}
}

func blinds(c chance) pattern {
	lit := c.span(0.3, 0.8)
	cord := c.span(15, 40)
	return func(x, y float64) float64 {
		v := 0.25 + 0.75*math.Pow(frac(x), lit)
		if math.Abs(math.Mod(y, cord)) < 0.25 {
			return 0.1
		}
		return v
	}
}

// pianoKeys has black keys in twos and threes, seven white ones an octave.
func pianoKeys(c chance) pattern {
	long := c.span(5, 7)
	return func(x, y float64) float64 {
		if math.Abs(y) > long/2 {
			return 0.1
		}
		k := int(math.Mod(math.Mod(math.Floor(x+0.5), 7)+7, 7))
		if y < long/8 && k != 0 && k != 3 && math.Abs(frac(x+0.5)-0.5) < 0.3 {
			return 0
		}
		if f := frac(x); f < 0.04 || f > 0.96 {
			return 0.2
		}
		return 1
	}
}

func corduroy(c chance) pattern {
	deep := c.span(0.3, 0.8)
	return func(x, y float64) float64 {
		x += 0.15 * noise(x/9, y/30, 6)
		return 1 - deep*math.Pow(math.Abs(math.Cos(math.Pi*x)), 3) + 0.2*noise(x*3, y*3, 2) - 0.1
	}
}

// film has four (or eight, or one) perforations a frame.
func film(c chance) pattern {
	per := []float64{1, 4, 8}[c.IntN(3)]
	w := c.span(0.4, 0.65)
	return func(x, y float64) float64 {
		switch a := math.Abs(y); {
		case a < 3*math.Sqrt(per):
			i := math.Floor(x / per)
			if f := frac(x/per) * per; f < 0.2 {
				return 0.05
			}
			return 0.2 + 0.6*math.Abs(cloud(x/2, y/2, 2, uint32(int(i)&7)))
		case a < 3*math.Sqrt(per)+1.6:
			return 0.05 + 0.95*bar(x, w)*within(a-3*math.Sqrt(per), 0.35, 1.25)
		}
		return 0.8
	}
}

func ledStrip(c chance) pattern {
	cut := float64(3 + 3*c.IntN(2))
	return func(x, y float64) float64 {
		if math.Abs(y) > 0.6 {
			return 0.2
		}
		f := frac(x) - 0.5
		if math.Abs(f) < 0.22 && math.Abs(y) < 0.25 {
			return 1
		}
		if u := math.Abs(math.Mod(x, cut)); u < 0.06 {
			return 0.1
		}
		return 0.55
	}
}

func screwThread(c chance) pattern {
	half, slant := c.span(3, 8), c.span(0.1, 0.4)
	return func(x, y float64) float64 {
		edge := half + 0.35*math.Abs(2*frac(x+0.5*slant)-1)
		if math.Abs(y) > edge {
			return 0.1
		}
		shade := math.Sqrt(max(0, 1-y*y/(edge*edge)))
		return shade * (0.35 + 0.65*math.Abs(2*frac(x+slant*y/half)-1))
	}
}

func dentils(c chance) pattern {
	w, high := c.span(0.4, 0.7), c.span(1, 3)
	return func(x, y float64) float64 {
		switch {
		case y < -high/2-1.5 || y > high/2+2:
			return 0.55
		case y < -high/2:
			return 0.9
		case y < high/2:
			if bar(x, w) > 0 {
				return 0.8
			}
			return 0.2
		}
		return 0.65
	}
}

func ladder(c chance) pattern {
	half, thick := c.span(1.2, 3), c.span(0.1, 0.25)
	return func(x, y float64) float64 {
		if math.Abs(math.Abs(y)-half) < 0.2 || math.Abs(y) < half && bar(x, thick) > 0 {
			return 0.9
		}
		return 0.3 + 0.2*cloud(x/3, y/3, 3, 8)
	}
}

func checks(c chance) pattern {
	return func(x, y float64) float64 {
		if (int(math.Floor(2*x))+int(math.Floor(2*y)))%2 == 0 {
			return 0.95
		}
		return 0.05
	}
}

func chainLink(c chance) pattern {
	w := c.span(0.08, 0.2)
	return func(x, y float64) float64 {
		if bar(x+y, w) > 0 || bar(x-y, w) > 0 {
			return 0.9
		}
		return 0.25 + 0.2*cloud(x/2, y/2, 3, 9)
	}
}
