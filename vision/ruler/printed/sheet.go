package printed

import (
	"fmt"

	"leadmark/vision/ruler/coded"
)

// BarMM is the length of the bar by which a print is checked.
const BarMM = 150

// RulerOptions say how the coded ruler is printed.
type RulerOptions struct {
	Paper    Paper
	LengthMM int     // whole tens, 50 to coded.Cells
	BarMM    float64 // what the bar measured on an earlier, uncorrected print; 0: not measured
}

// scale is by how much everything is drawn longer so that the printer brings it to its length.
func (o RulerOptions) scale() float64 {
	if o.BarMM <= 0 {
		return 1
	}
	return BarMM / o.BarMM
}

const (
	marginMM    = 11.0 // printers leave about 5 mm of the sheet free
	stripStepMM = 30.0 // from strip to strip
)

// Ruler lays the coded ruler out on one sheet: how to use it, the bar, and the strips.
func Ruler(o RulerOptions) Page {
	p := o.Paper.across()
	scale := o.scale()
	room := (p.WidthMM - 2*marginMM - flapMM) / scale
	strips := cutUp(o.LengthMM, int(room)/10*10, scale)
	p.text(Text{XMM: marginMM, YMM: 16, SizeMM: 5.4, Bold: true,
		Text: fmt.Sprintf("Coded ruler, 0 to %d mm", o.LengthMM)})
	p.text(Text{XMM: p.WidthMM - marginMM, YMM: 16, SizeMM: 3, Anchor: End, Grey: 0.3, Text: o.drawnFor()})
	p.bar(marginMM, 24, scale)
	y := 24.0
	for _, line := range o.barText() {
		p.text(Text{XMM: marginMM + BarMM*scale + 7, YMM: y, SizeMM: 3, Text: line})
		y += 4.2
	}
	y = 56
	for _, s := range strips {
		s.draw(&p, marginMM, y)
		y += stripStepMM
	}
	for i, line := range howTo(strips) {
		p.text(Text{XMM: marginMM, YMM: y + 0.5 + 4.3*float64(i), SizeMM: 3.1, Text: line})
	}
	return p
}

func (o RulerOptions) drawnFor() string {
	if o.BarMM <= 0 {
		return "leadmark ruler, drawn true"
	}
	return fmt.Sprintf("leadmark ruler, drawn for a printer that makes the bar %.2f mm long", o.BarMM)
}

// bar draws the bar with a line at each end and one at its middle.
func (p *Page) bar(x, y, scale float64) {
	const line = 0.2
	p.box(x, y, BarMM*scale, 1.6, 0)
	for _, at := range []float64{0, BarMM / 2, BarMM} {
		p.box(x+scale*at-line/2, y-3, line, 7.6, 0)
	}
	p.text(Text{XMM: x + scale*BarMM/2, YMM: y + 9, SizeMM: 3.6, Anchor: Middle, Bold: true,
		Text: "this bar must measure 150.0 mm from end line to end line"})
}

// barText says what to do with the bar's length.
func (o RulerOptions) barText() []string {
	out := []string{
		"Measure the bar with a steel rule before you cut.",
		"A bar 0.5 mm off makes every length 0.3 % wrong.",
		"If it is not 150.0 mm, print again with",
	}
	if o.BarMM > 0 {
		return append(out, fmt.Sprintf("--bar-mm %.2f x measured / 150, or keep this", o.BarMM),
			"one and write graduation_mm = measured / 150", "under [ruler] in run.toml.")
	}
	return append(out, "--bar-mm and the length you measured, or keep this",
		"one and write graduation_mm = measured / 150", "under [ruler] in run.toml.")
}

// howTo says how to cut and glue.
func howTo(strips []strip) []string {
	out := []string{
		"1  Print on matt paper at 100 % (actual size), not fitted to the page. Then check the bar: see above.",
		"2  Cut along the grey lines with a knife and a steel rule, away from your fingers, the edge with " +
			"the fine lines last.",
		"3  Glue the strip on a straight lath, its 0 flush with the end that trips the beam, the fine lines " +
			"along one edge. Use glue or tape without water.",
	}
	if len(strips) > 1 {
		at, end := strips[0].toMM, min(strips[0].toMM+50, strips[0].lastMM)
		out = append(out, fmt.Sprintf("4  Glue the strip that begins at %d over the flap, its cut edge "+
			"exactly on the %[1]d line, and so on; then check %d to %d with the rule: %d.0 mm.",
			at, at-50, end, end-at+50))
	}
	return append(out, fmt.Sprintf("%d  In run.toml: graduation_mm = 1 and front_mm = 0, or what the end "+
		"really reads. Any 30 mm in the picture give the reading, up to %d mm.",
		len(out)+1, coded.Cells))
}
