package printed

import (
	"math"
	"strconv"

	"leadmark/vision/ruler/coded"
)

const (
	flapMM  = 10.0 // beyond a strip's end, under the next one
	tailMM  = 6.0  // blank beyond the ruler's last line
	bleedMM = 1.5  // print beyond a cut, so that a cut a little off leaves no gap
	hairMM  = 0.1
	cutGrey = 0.65
)

// strip is one piece of the ruler, from one reading to another, its zero end to the left and its
// graduated edge on top.
type strip struct {
	fromMM, toMM int     // readings, whole tens
	lastMM       int     // reading at the ruler's own end
	scale        float64 // drawn length over true length
}

// cutUp parts a ruler into strips of at most most mm, the first as long as can be: the joints
// lie far from the front end. No piece is shorter than 40 mm.
func cutUp(lengthMM, mostMM int, scale float64) []strip {
	const shortest = 40
	var out []strip
	for from := 0; from < lengthMM; {
		to := min(from+mostMM, lengthMM)
		if rest := lengthMM - to; rest > 0 && rest < shortest {
			to = lengthMM - shortest
		}
		out = append(out, strip{from, to, lengthMM, scale})
		from = to
	}
	return out
}

func (s strip) lengthMM() float64 { return s.scale * float64(s.toMM-s.fromMM) }

// widthMM is the strip's width: it is not scaled, a lath is as wide as it is.
func (s strip) widthMM() float64 { return 1e3 * coded.Layout().Width }

func (s strip) last() bool { return s.toMM == s.lastMM }

// x is where a reading lies on paper, the strip's left cut being at x0.
func (s strip) x(x0, readingMM float64) float64 { return x0 + s.scale*(readingMM-float64(s.fromMM)) }

// draw draws the strip with its left cut and its graduated edge at (x0, y0).
func (s strip) draw(p *Page, x0, y0 float64) {
	s.cells(p, x0, y0)
	s.graduations(p, x0, y0)
	s.numerals(p, x0, y0)
	s.cuts(p, x0, y0)
}

// span is the readings that are printed, the bleed at joints included.
func (s strip) span() (from, to float64) {
	from, to = float64(s.fromMM), float64(s.toMM)
	if s.fromMM > 0 {
		from -= bleedMM
	}
	if !s.last() {
		to += bleedMM
	}
	return from, to
}

// cells draws the code, dark cells side by side as one box.
func (s strip) cells(p *Page, x0, y0 float64) {
	lay := coded.Layout()
	from, to := s.span()
	for i := int(math.Floor(from)); float64(i) < to; i++ {
		if !coded.Dark(i) {
			continue
		}
		end := i + 1
		for coded.Dark(end) && float64(end) < to {
			end++
		}
		a, b := max(from, float64(i)), min(to, float64(end))
		p.box(s.x(x0, a), y0+1e3*lay.CodeNear, s.scale*(b-a), 1e3*(lay.CodeFar-lay.CodeNear), 0)
		i = end
	}
}

// graduations draws the lines of 1, 5 and 10 mm, from a little above the edge.
func (s strip) graduations(p *Page, x0, y0 float64) {
	lay := coded.Layout()
	from, to := s.span()
	w := 1e3 * lay.LineWidth
	for i := int(math.Ceil(from)); float64(i) <= to; i++ {
		length := lay.Short
		switch {
		case i%10 == 0:
			length = lay.Long
		case i%5 == 0:
			length = lay.Middle
		}
		p.box(s.x(x0, float64(i))-w/2, y0-bleedMM, w, 1e3*length+bleedMM, 0)
	}
}

// numerals stands the millimetres under each tenth line; the first is moved inside the ruler.
func (s strip) numerals(p *Page, x0, y0 float64) {
	lay := coded.Layout()
	t := Text{YMM: y0 + 1e3*(lay.NumeralNear+lay.NumeralHeight), SizeMM: 1e3 * lay.NumeralHeight / digitHeight}
	for i := s.fromMM; i <= s.toMM; i += 10 {
		n := t
		n.XMM, n.Anchor, n.Text = s.x(x0, float64(i)), Middle, strconv.Itoa(i)
		if i == 0 {
			n.XMM, n.Anchor = n.XMM+0.6, Start
		}
		p.text(n)
	}
}

// cuts draws where to cut: hair lines along the edges, marks beside the corners, and the flap
// that goes under the next strip.
func (s strip) cuts(p *Page, x0, y0 float64) {
	x1, y1 := x0+s.lengthMM(), y0+s.widthMM()
	end := x1 + tailMM
	if !s.last() {
		end = x1 + flapMM
		p.text(Text{XMM: x1 + flapMM/2 + 1.8, YMM: (y0 + y1) / 2, SizeMM: 2.8, Anchor: Middle, Upwards: true,
			Grey: 0.4, Text: "glue"})
		p.text(Text{XMM: x1 + flapMM/2 + 4.6, YMM: (y0 + y1) / 2, SizeMM: 2.2, Anchor: Middle, Upwards: true, Grey: 0.4,
			Text: "under " + strconv.Itoa(s.toMM) + " on"})
		for y := y0; y < y1; y += 2 { // where the next strip's edge comes to lie
			p.box(x1-hairMM/2, y, hairMM, 1, cutGrey)
		}
	}
	p.frame(x0, y0, end-x0, y1-y0, hairMM, cutGrey)
	const gap, mark = 2.2, 3.0
	for _, y := range []float64{y0, y1} {
		p.box(x0-gap-mark, y-hairMM/2, mark, hairMM, 0)
		p.box(end+gap, y-hairMM/2, mark, hairMM, 0)
	}
	for _, x := range []float64{x0, end} {
		p.box(x-hairMM/2, y0-gap-mark, hairMM, mark, 0)
		p.box(x-hairMM/2, y1+gap, hairMM, mark, 0)
	}
}
