package printed

// Page is one sheet of paper and what stands on it, in the order of drawing.
type Page struct {
	WidthMM, HeightMM float64
	Boxes             []Box
	Texts             []Text
}

// Box is a filled rectangle without an outline. Thin ones are the lines of a page.
type Box struct {
	XMM, YMM, WidthMM, HeightMM float64 // of the top left corner, and the size
	Grey                        float64 // 0 black to 1 white
}

// Anchor is the part of a text that lies at its place.
type Anchor int

// The anchors of a text.
const (
	Start Anchor = iota
	Middle
	End
)

// Text is one line of Helvetica.
type Text struct {
	XMM, YMM float64 // of the base line, at the anchor
	SizeMM   float64 // of the font; capitals and digits are 0.72 of it high
	Anchor   Anchor
	Bold     bool
	Upwards  bool // reads from below to above
	Grey     float64
	Text     string
}

// digitHeight is how high digits stand, as a part of the font's size (Helvetica's cap height is
// 718 of 1000, its digits' 703: Adobe core font metrics, from memory).
const digitHeight = 0.703

func (p *Page) box(x, y, w, h, grey float64) {
	p.Boxes = append(p.Boxes, Box{x, y, w, h, grey})
}

func (p *Page) text(t Text) { p.Texts = append(p.Texts, t) }

// frame draws a rectangle's outline in lines of the given width, centred on its edges.
func (p *Page) frame(x, y, w, h, line, grey float64) {
	for _, ry := range []float64{y, y + h} {
		p.box(x-line/2, ry-line/2, w+line, line, grey)
	}
	for _, rx := range []float64{x, x + w} {
		p.box(rx-line/2, y-line/2, line, h+line, grey)
	}
}

// Paper is a size of paper, upright.
type Paper struct {
	Name              string
	WidthMM, HeightMM float64
}

// Papers are the sizes that can be printed: A4 of ISO 216, and US Letter, 8 1/2 by 11 inches
// (ANSI/ASME Y14.1, size A).
func Papers() []Paper {
	return []Paper{{"a4", 210, 297}, {"letter", 215.9, 279.4}}
}

// across returns an empty page of the paper lying on its long side.
func (p Paper) across() Page { return Page{WidthMM: p.HeightMM, HeightMM: p.WidthMM} }
