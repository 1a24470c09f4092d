package printed

import (
	"io"
	"time"

	"codeberg.org/go-pdf/fpdf"
)

// Info is what a file says of itself.
type Info struct {
	Title string
	Made  time.Time
}

// WritePDF writes pages of one size as a PDF with Helvetica, one of the fonts that every reader
// of PDF has (ISO 32000-1, 9.6.2.2). Places are good to 0.004 mm.
func WritePDF(w io.Writer, pages []Page, info Info) error {
	if len(pages) == 0 {
		return nil
	}
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: pages[0].WidthMM, Ht: pages[0].HeightMM}})
	f.SetTitle(info.Title, true)
	f.SetCreator("leadmark", false)
	f.SetCatalogSort(true) // else fonts stand in the order of a map: other bytes each time
	f.SetCreationDate(info.Made)
	f.SetModificationDate(info.Made)
	f.SetMargins(0, 0, 0)
	f.SetAutoPageBreak(false, 0)
	for _, p := range pages {
		f.AddPageFormat("", fpdf.SizeType{Wd: p.WidthMM, Ht: p.HeightMM})
		for _, b := range p.Boxes {
			g := int(255*b.Grey + 0.5)
			f.SetFillColor(g, g, g)
			f.Rect(b.XMM, b.YMM, b.WidthMM, b.HeightMM, "F")
		}
		for _, t := range p.Texts {
			pdfText(f, t)
		}
	}
	return f.Output(w)
}

func pdfText(f *fpdf.Fpdf, t Text) {
	style := ""
	if t.Bold {
		style = "B"
	}
	const pointMM = 25.4 / 72
	f.SetFont("Helvetica", style, t.SizeMM/pointMM)
	g := int(255*t.Grey + 0.5)
	f.SetTextColor(g, g, g)
	shift := 0.0
	switch t.Anchor {
	case Middle:
		shift = f.GetStringWidth(t.Text) / 2
	case End:
		shift = f.GetStringWidth(t.Text)
	}
	if !t.Upwards {
		f.Text(t.XMM-shift, t.YMM, t.Text)
		return
	}
	f.TransformBegin()
	f.TransformRotate(90, t.XMM, t.YMM)
	f.Text(t.XMM-shift, t.YMM, t.Text)
	f.TransformEnd()
}
