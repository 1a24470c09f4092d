package printed

import (
	"fmt"

	"github.com/makiuchi-d/gozxing/qrcode/decoder"
	"github.com/makiuchi-d/gozxing/qrcode/encoder"
)

// Card is one slate: what its symbol says, and the same for a person, a line each.
type Card struct {
	Symbol string
	Lines  []string
}

// symbolMM is the side of a symbol; the white kept around it is more than the four modules that
// it needs (ISO/IEC 18004).
const symbolMM = 62.0

// Slates lays cards out, four on a sheet.
func Slates(paper Paper, cards []Card) ([]Page, error) {
	var pages []Page
	for i, c := range cards {
		if i%4 == 0 {
			p := paper.across()
			p.box(p.WidthMM/2-hairMM/2, 0, hairMM, p.HeightMM, cutGrey)
			p.box(0, p.HeightMM/2-hairMM/2, p.WidthMM, hairMM, cutGrey)
			pages = append(pages, p)
		}
		p := &pages[len(pages)-1]
		w, h := p.WidthMM/2, p.HeightMM/2
		if err := p.card(c, w*float64(i%2), h*float64(i%4/2), h); err != nil {
			return nil, err
		}
	}
	return pages, nil
}

// card draws one card with its top left corner at (x, y).
func (p *Page) card(c Card, x, y, height float64) error {
	left, top := x+14, y+(height-symbolMM)/2-2
	if err := p.symbol(c.Symbol, left, top); err != nil {
		return err
	}
	at := left + symbolMM + 10
	for i, line := range c.Lines {
		size := 6.4
		if i > 0 && len(line) > 12 {
			size = 4.6
		}
		p.text(Text{XMM: at, YMM: top + 8 + 10*float64(i), SizeMM: size, Bold: true, Text: line})
	}
	for i, line := range []string{"Photograph this card, whole and sharp,", "before the shots it speaks of,",
		"or let it stand in their frames."} {
		p.text(Text{XMM: at, YMM: top + symbolMM - 9 + 4*float64(i), SizeMM: 2.7, Grey: 0.3, Text: line})
	}
	p.text(Text{XMM: left, YMM: top + symbolMM + 8, SizeMM: 2.6, Grey: 0.4, Text: c.Symbol})
	return nil
}

// symbol draws a QR symbol (ISO/IEC 18004) of error correction level Q, a quarter of whose
// codewords may be lost, as boxes along its rows.
func (p *Page) symbol(text string, x, y float64) error {
	code, err := encoder.Encoder_encode(text, decoder.ErrorCorrectionLevel_Q, nil)
	if err != nil {
		return fmt.Errorf("making the QR symbol of %q: %w", text, err)
	}
	m := code.GetMatrix()
	n := m.GetWidth()
	side := symbolMM / float64(n)
	for row := range n {
		for col := 0; col < n; col++ {
			end := col
			for end < n && m.Get(end, row) == 1 {
				end++
			}
			if end > col {
				// A little over the row's end, so that no light line shows between rows.
				p.box(x+side*float64(col), y+side*float64(row), side*float64(end-col), side*1.01, 0)
				col = end
			}
		}
	}
	return nil
}
