package looks

import "leadmark/vision/synth/paint"

const inch = 25.4e-3 // m

// Millimetres returns a millimetre scale with marks of three lengths at 1, 5 and 10 mm and a numeral
// at every centimetre, up to length m.
func Millimetres(length float64) Scale {
	return Scale{Pitch: mm, LineWidth: 0.2 * mm, From: 0, To: int(length/mm + 1e-6),
		Steps:        []Step{{1, 3 * mm}, {5, 4.5 * mm}, {10, 6 * mm}},
		NumeralEvery: 10, NumeralStep: 1, NumeralHeight: 3 * mm}
}

// HalfMillimetres returns a scale with a mark at every 0.5 mm.
func HalfMillimetres(length float64) Scale {
	return Scale{Pitch: 0.5 * mm, LineWidth: 0.12 * mm, From: 0, To: int(length/(0.5*mm) + 1e-6),
		Steps:        []Step{{1, 2.2 * mm}, {2, 3.2 * mm}, {10, 4.6 * mm}, {20, 6 * mm}},
		NumeralEvery: 20, NumeralStep: 1, NumeralHeight: 2.6 * mm}
}

// Inches returns a scale with parts marks to the inch (16 or 32).
func Inches(length float64, parts int) Scale {
	s := Scale{Pitch: inch / float64(parts), LineWidth: 0.2 * mm, From: 0, To: int(length/inch*float64(parts) + 1e-6),
		NumeralEvery: parts, NumeralStep: 1, NumeralHeight: 3.6 * mm}
	for every, l := 1, 2.6*mm; every <= parts; every, l = every*2, l+1.1*mm {
		s.Steps = append(s.Steps, Step{every, l})
	}
	return s
}

// WhitePlastic is a white ruler with black print.
func WhitePlastic() Look {
	return Look{Name: "white plastic", Length: 0.310, Width: 0.030, Margin: 0,
		Base: paint.RGB{R: 0.74, G: 0.74, B: 0.72}, Ink: paint.Grey(0.035), Opacity: 1, Gloss: 0.05, Bevel: 0.12,
		Round: 0.4 * mm, Scales: []Scale{Millimetres(0.300)}}
}

// PaperStrip is a printed paper scale on card.
func PaperStrip() Look {
	l := Look{Name: "paper", Length: 0.260, Width: 0.025, Base: paint.RGB{R: 0.78, G: 0.78, B: 0.74},
		Ink:   paint.Grey(0.06),
		Grain: Paper, GrainDepth: 0.05, Wear: 0.1, Opacity: 1, Scales: []Scale{Millimetres(0.255)}}
	l.Scales[0].LineWidth = 0.25 * mm
	return l
}

// BlackPlastic is a black ruler with light marks and a blank margin before zero.
func BlackPlastic() Look {
	return Look{Name: "black", Length: 0.312, Width: 0.028, Margin: 5 * mm,
		Base: paint.RGB{R: 0.022, G: 0.022, B: 0.025}, Ink: paint.RGB{R: 0.62, G: 0.62, B: 0.58}, Wear: 0.15,
		Opacity: 1, Gloss: 0.04, Bevel: 0.25,
		Round: 2 * mm, Scales: []Scale{Millimetres(0.300)}}
}

// Steel is a brushed steel rule with half millimetres, low contrast and glare.
func Steel() Look {
	l := Look{Name: "steel", Length: 0.305, Width: 0.025, Base: paint.RGB{R: 0.34, G: 0.35, B: 0.36},
		Ink:   paint.Grey(0.11),
		Grain: Brushed, GrainDepth: 0.16, Wear: 0.2, Opacity: 1, Gloss: 0.35, Round: 0.3 * mm,
		Scales: []Scale{Millimetres(0.300)}}
	l.Scales[0].LineWidth = 0.16 * mm
	return l
}

// SteelHalf is a steel rule with a mark at every half millimetre.
func SteelHalf() Look {
	l := Steel()
	l.Name, l.Length, l.Scales = "steel, half millimetres", 0.160, []Scale{HalfMillimetres(0.150)}
	l.Hole = &Hole{At: 0.154, Radius: 2.5 * mm}
	return l
}

// WoodRule is a wooden ruler with grain and a small blank margin.
func WoodRule() Look {
	l := Look{Name: "wood", Length: 0.308, Width: 0.026, Margin: 3 * mm, Base: paint.RGB{R: 0.45, G: 0.29, B: 0.145},
		Ink:   paint.RGB{R: 0.035, G: 0.025, B: 0.02},
		Grain: Wood, GrainDepth: 0.4, Wear: 0.35, Opacity: 1, Gloss: 0.03, Round: 1.2 * mm, Bevel: 0.15,
		Scales: []Scale{Millimetres(0.300)}}
	l.Scales[0].LineWidth = 0.28 * mm
	return l
}

// ClearPlastic is a transparent ruler: the backdrop shows through.
func ClearPlastic() Look {
	return Look{Name: "clear plastic", Length: 0.308, Width: 0.030, Margin: 4 * mm,
		Base:    paint.RGB{R: 0.5, G: 0.53, B: 0.52},
		Ink:     paint.Grey(0.02),
		Opacity: 0.22, Gloss: 0.08, Bevel: 0.5, Round: 0.8 * mm, Scales: []Scale{Millimetres(0.300)}}
}

// Tape is the end of a steel tape measure: yellow, black print, a hook at the front.
func Tape() Look {
	l := Look{Name: "tape", Length: 0.400, Width: 0.016, Base: paint.RGB{R: 0.76, G: 0.5, B: 0.045},
		Ink:  paint.Grey(0.025),
		Wear: 0.15, Opacity: 1, Gloss: 0.06, Hook: 1.2 * mm, Scales: []Scale{Millimetres(0.395)}}
	l.Scales[0].Steps = []Step{{1, 3.4 * mm}, {5, 5 * mm}, {10, 7 * mm}}
	l.Scales[0].From = 2
	return l
}

// InchRule is a white ruler divided in parts of an inch (16 or 32).
func InchRule(parts int) Look {
	l := WhitePlastic()
	l.Name, l.Length, l.Scales = "inches", 0.308, []Scale{Inches(0.3048, parts)}
	return l
}

// TwoScales has millimetres on one edge and sixteenths of an inch, numerals the other way up, on
// the other.
func TwoScales() Look {
	l := WhitePlastic()
	l.Name, l.Length, l.Margin, l.Width = "two scales", 0.312, 3*mm, 0.034
	in := Inches(0.3048, 16)
	in.Far = true
	l.Scales = append(l.Scales, in)
	return l
}

// Banded is a white ruler with a bold dark band across it at the given reading, m.
func Banded(at float64) Look {
	l := WhitePlastic()
	l.Name, l.Band = "banded", &Band{At: at, Width: 4 * mm, Colour: paint.RGB{R: 0.30, G: 0.02, B: 0.02}}
	return l
}

// All returns every kind of ruler there is.
func All() []Look {
	chamfered := PaperStrip()
	chamfered.Name, chamfered.Chamfer = "paper, cut corners", 4*mm
	rounded := BlackPlastic()
	rounded.Name, rounded.Round = "black, round end", 9*mm
	holed := PaperStrip()
	holed.Name, holed.Margin, holed.Hole = "paper, hole", 3*mm, &Hole{At: 11 * mm, Radius: 3 * mm}
	return []Look{WhitePlastic(), PaperStrip(), chamfered, holed, BlackPlastic(), rounded, Steel(), SteelHalf(),
		WoodRule(), ClearPlastic(),
		Tape(), InchRule(16), InchRule(32), TwoScales(), TurnedRound(WhitePlastic()), Banded(20 * mm)}
}

// TurnedRound has the scale along the other edge, and the numerals the other way up.
func TurnedRound(l Look) Look {
	l.Scales = append([]Scale(nil), l.Scales...)
	for i := range l.Scales {
		l.Scales[i].Far = !l.Scales[i].Far
		l.Scales[i].Turned = !l.Scales[i].Turned
	}
	return l
}
