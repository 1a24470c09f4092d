package printed

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
)

// WriteSVG writes one page as SVG 1.1, one unit a millimetre, its size in millimetres.
func WriteSVG(w io.Writer, p Page, info Info) error {
	var b bytes.Buffer
	fmt.Fprintf(&b,
		`<svg xmlns="http://www.w3.org/2000/svg" width="%gmm" height="%gmm" viewBox="0 0 %[1]g %[2]g">`+"\n",
		p.WidthMM, p.HeightMM)
	fmt.Fprintf(&b, "<title>%s</title>\n<rect width=\"100%%\" height=\"100%%\" fill=\"#fff\"/>\n", escaped(info.Title))
	for _, x := range p.Boxes {
		fmt.Fprintf(&b, `<rect x="%.4f" y="%.4f" width="%.4f" height="%.4f" fill="%s"/>`+"\n", x.XMM, x.YMM,
			x.WidthMM, x.HeightMM, tone(x.Grey))
	}
	b.WriteString("<g font-family=\"Helvetica, Arial, 'Liberation Sans', sans-serif\">\n")
	for _, t := range p.Texts {
		fmt.Fprintf(&b, `<text x="%.4f" y="%.4f" font-size="%.4f" fill="%s"`, t.XMM, t.YMM, t.SizeMM, tone(t.Grey))
		if t.Anchor != Start {
			fmt.Fprintf(&b, ` text-anchor="%s"`, map[Anchor]string{Middle: "middle", End: "end"}[t.Anchor])
		}
		if t.Bold {
			b.WriteString(` font-weight="bold"`)
		}
		if t.Upwards {
			fmt.Fprintf(&b, ` transform="rotate(-90 %.4f %.4f)"`, t.XMM, t.YMM)
		}
		fmt.Fprintf(&b, ">%s</text>\n", escaped(t.Text))
	}
	b.WriteString("</g>\n</svg>\n")
	_, err := w.Write(b.Bytes())
	return err
}

func tone(grey float64) string {
	g := int(255*grey + 0.5)
	return fmt.Sprintf("#%02x%02x%02x", g, g, g)
}

func escaped(text string) string {
	var b bytes.Buffer
	if err := xml.EscapeText(&b, []byte(text)); err != nil {
		return ""
	}
	return b.String()
}
