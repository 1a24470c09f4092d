package printed_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"image"
	"image/png"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"

	"leadmark/testdata"
	"leadmark/vision/ruler/coded"
	"leadmark/vision/ruler/printed"
)

// rendered writes pages as a PDF and has poppler draw the first at dpi.
func rendered(t *testing.T, pages []printed.Page, dpi int) (image.Image, string) {
	t.Helper()
	pdftoppm := testdata.Program(t, "pdftoppm", "poppler-utils", "-v")
	var b bytes.Buffer
	if err := printed.WritePDF(&b, pages, printed.Info{Title: "test"}); err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "p.pdf"), b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(pdftoppm, "-r", fmt.Sprint(dpi), "-f", "1", "-l", "1", "-singlefile", "-gray",
		"-png", filepath.Join(dir, "p.pdf"), filepath.Join(dir, "p")).CombinedOutput()
	if err != nil {
		t.Fatalf("pdftoppm: %v\n%s", err, out)
	}
	name := filepath.Join(dir, "p.png")
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	im, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return im, name
}

// darkness of a pixel, 0 to 1; im is grey.
func darkness(im image.Image, x, y int) float64 {
	v, _, _, _ := im.At(x, y).RGBA()
	return 1 - float64(v)/0xffff
}

// lines returns the middles, px, of the dark stretches along row y between two columns.
func lines(im image.Image, y, from, to int) []float64 {
	var out []float64
	var sum, moment float64
	for x := from; x < to; x++ {
		if d := darkness(im, x, y); d > 0.1 {
			sum, moment = sum+d, moment+d*(float64(x)+0.5)
		} else if sum > 0 {
			out, sum, moment = append(out, moment/sum), 0, 0
		}
	}
	return out
}

// The sheet, drawn at 600 dpi by poppler, measures true to 0.1 %: the bar from end line to end line,
// and the graduations of the first strip from 10 to 250 mm, each to 0.05 mm.
func TestPDFMeasuresTrue(t *testing.T) {
	for _, o := range sheets() {
		im, _ := rendered(t, []printed.Page{printed.Ruler(o)}, dpi)
		measure(t, im, o)
	}
}

// The same of the SVG, drawn by librsvg.
func TestSVGMeasuresTrue(t *testing.T) {
	convert := testdata.Program(t, "rsvg-convert", "librsvg2-bin", "--version")
	for _, o := range sheets() {
		var b bytes.Buffer
		if err := printed.WriteSVG(&b, printed.Ruler(o), printed.Info{Title: "test"}); err != nil {
			t.Fatal(err)
		}
		c := exec.Command(convert, "--dpi-x", fmt.Sprint(dpi), "--dpi-y", fmt.Sprint(dpi), "--background-color",
			"white", "--format", "png")
		c.Stdin = &b
		out, err := c.Output()
		if err != nil {
			t.Fatalf("rsvg-convert: %v", err)
		}
		im, err := png.Decode(bytes.NewReader(out))
		if err != nil {
			t.Fatal(err)
		}
		measure(t, im, o)
	}
}

const dpi = 600

func sheets() []printed.RulerOptions {
	return []printed.RulerOptions{
		{Paper: printed.Papers()[0], LengthMM: 300},
		{Paper: printed.Papers()[1], LengthMM: 240, BarMM: 149.6},
	}
}

// measure holds a drawn sheet to what it should measure.
func measure(t *testing.T, im image.Image, o printed.RulerOptions) {
	t.Helper()
	want := 1.0
	if o.BarMM > 0 {
		want = 150 / o.BarMM
	}
	px := func(mm float64) int { return int(math.Round(mm / 25.4 * dpi)) }
	mm := func(px float64) float64 { return px * 25.4 / dpi }
	bar := lines(im, px(24-2), px(5), px(165))
	if len(bar) != 3 {
		t.Fatalf("the bar has %d lines, want 3", len(bar))
	}
	if got := mm(bar[2] - bar[0]); math.Abs(got/(150*want)-1) > 1e-3 {
		t.Errorf("the bar measures %.3f mm, want %.3f", got, 150*want)
	}
	marks := lines(im, px(56+1), px(11.5), px(11+236*want))
	if len(marks) < 230 {
		t.Fatalf("only %d graduations were drawn", len(marks))
	}
	for i, x := range marks { // the first is at 1 mm: the zero line lies at the cut
		if got := mm(x) - 11; math.Abs(got-float64(i+1)*want) > 0.05 {
			t.Fatalf("graduation %d lies at %.3f mm", i+1, got)
		}
	}
	span := mm(marks[229] - marks[9])
	t.Logf("%s: bar %.3f mm, 220 graduations %.3f mm", o.Paper.Name, mm(bar[2]-bar[0]), span)
	if math.Abs(span/(220*want)-1) > 1e-3 {
		t.Errorf("from 10 to 230 mm measures %.3f mm, want %.3f", span, 220*want)
	}
}

// The cells that the sheet shows are the code, over the joint too.
func TestStripsCarryTheCode(t *testing.T) {
	im, _ := rendered(t, []printed.Page{printed.Ruler(printed.RulerOptions{Paper: printed.Papers()[0],
		LengthMM: 300})}, 150)
	lay := coded.Layout()
	at := func(mm float64) int { return int(mm / 25.4 * 150) }
	for i := range 300 {
		x, y := 11+float64(i)+0.5, 56+1e3*(lay.CodeNear+lay.CodeFar)/2
		if i >= 260 {
			x, y = x-260, y+30
		}
		if got := darkness(im, at(x), at(y)) > 0.5; got != coded.Dark(i) {
			t.Fatalf("cell %d is dark: %v, want %v", i, got, coded.Dark(i))
		}
	}
}

// Everything stays on the paper, whatever the length, and strips follow each other without a gap.
func TestEverythingOnThePaper(t *testing.T) {
	for _, paper := range printed.Papers() {
		for length := 50; length <= coded.Cells; length += 10 {
			p := printed.Ruler(printed.RulerOptions{Paper: paper, LengthMM: length, BarMM: 147})
			for _, b := range p.Boxes {
				if b.XMM < 3 || b.YMM < 5 || b.XMM+b.WidthMM > p.WidthMM-3 || b.YMM+b.HeightMM > p.HeightMM-5 {
					t.Fatalf("%s, %d mm: a box at (%.1f, %.1f) of %.1f x %.1f mm runs off the sheet", paper.Name,
						length, b.XMM, b.YMM, b.WidthMM, b.HeightMM)
				}
			}
			for _, x := range p.Texts {
				if x.YMM > p.HeightMM-5 {
					t.Fatalf("%s, %d mm: %q runs off the sheet", paper.Name, length, x.Text)
				}
			}
		}
	}
}

// The SVG is well-formed, in millimetres, and carries the same boxes as the page.
func TestSVG(t *testing.T) {
	p := printed.Ruler(printed.RulerOptions{Paper: printed.Papers()[0], LengthMM: 300})
	var b bytes.Buffer
	if err := printed.WriteSVG(&b, p, printed.Info{Title: "a < b"}); err != nil {
		t.Fatal(err)
	}
	text := b.String()
	if !strings.Contains(text, `width="297mm" height="210mm" viewBox="0 0 297 210"`) {
		t.Errorf("the size is not stated in millimetres: %.200s", text)
	}
	rects := 0
	for d := xml.NewDecoder(&b); ; {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if e, ok := tok.(xml.StartElement); ok && e.Name.Local == "rect" {
			rects++
		}
	}
	if rects != len(p.Boxes)+1 {
		t.Errorf("%d rectangles, want %d", rects, len(p.Boxes)+1)
	}
}

// Symbols are read back by zbar, which shares nothing with what drew them, and by gozxing.
func TestSlatesReadBack(t *testing.T) {
	texts := []string{"leadmark-slate/1 drop_mm=400 delay_ms=0", "leadmark-slate/1 speed_mps=1.25",
		"leadmark-slate/1 group=a delay_ms=12.5", "leadmark-slate/1 drop_mm=99.5"}
	var cards []printed.Card
	for _, x := range texts {
		cards = append(cards, printed.Card{Symbol: x, Lines: []string{"drop 400 mm"}})
	}
	pages, err := printed.Slates(printed.Papers()[0], cards)
	if err != nil {
		t.Fatal(err)
	}
	im, name := rendered(t, pages, 100)
	for i := range 4 {
		b := im.Bounds()
		r := image.Rect(b.Dx()/2*(i%2), b.Dy()/2*(i/2), b.Dx()/2*(i%2+1), b.Dy()/2*(i/2+1))
		card := im.(interface {
			SubImage(image.Rectangle) image.Image
		}).SubImage(r)
		bitmap, err := gozxing.NewBinaryBitmapFromImage(card)
		if err != nil {
			t.Fatal(err)
		}
		got, err := qrcode.NewQRCodeReader().Decode(bitmap, nil)
		if err != nil || got.GetText() != texts[i] {
			t.Errorf("card %d: gozxing reads %v, %v", i, got, err)
		}
	}
	out, err := exec.Command(testdata.Program(t, "zbarimg", "zbar-tools", "--version"), "--quiet", "--nodbus", "-Sdisable",
		"-Sqrcode.enable", name).Output()
	if err != nil {
		t.Fatalf("zbarimg: %v", err)
	}
	for _, x := range texts {
		if !strings.Contains(string(out), "QR-Code:"+x+"\n") {
			t.Errorf("zbar did not read %q in\n%s", x, out)
		}
	}
}

// The same pages give the same bytes, time apart.
func TestPDFHasTheSameBytes(t *testing.T) {
	page := printed.Page{WidthMM: 210, HeightMM: 297, Texts: []printed.Text{{Text: "one"}, {Text: "two", Bold: true}}}
	var first bytes.Buffer
	for i := range 20 {
		var b bytes.Buffer
		if err := printed.WritePDF(&b, []printed.Page{page}, printed.Info{Made: time.Unix(1, 0)}); err != nil {
			t.Fatal(err)
		}
		if i == 0 {
			first = b
		} else if !bytes.Equal(b.Bytes(), first.Bytes()) {
			t.Fatalf("other bytes at try %d", i+1)
		}
	}
}
