package looks

import (
	"image"
	"math"
	"strconv"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

const (
	glyphHeight = 72  // px, of a digit in the drawn labels
	mostNumeral = 800 // numerals above are left out, and above 120 all but the tens
)

// labels draws every numeral once.
var labels = sync.OnceValue(func() []*image.Alpha {
	parsed, err := opentype.Parse(goregular.TTF)
	if err != nil {
		panic("the built-in font does not parse: " + err.Error())
	}
	// A digit of this font is 0.72 of its size high.
	face, err := opentype.NewFace(parsed, &opentype.FaceOptions{Size: glyphHeight / 0.72, DPI: 72})
	if err != nil {
		panic("the built-in font has no face: " + err.Error())
	}
	all := make([]*image.Alpha, mostNumeral+1)
	for n := range all {
		if n > 120 && n%10 != 0 {
			continue
		}
		all[n] = label(face, strconv.Itoa(n))
	}
	return all
})

func label(face font.Face, text string) *image.Alpha {
	w := font.MeasureString(face, text).Ceil() + 4
	im := image.NewAlpha(image.Rect(0, 0, w, glyphHeight+8))
	d := font.Drawer{Dst: im, Src: image.Opaque, Face: face, Dot: fixed.P(2, glyphHeight+4)}
	d.DrawString(text)
	return im
}

// numeral returns how much ink a numeral of the given height (m) has at (du, dv) metres from its
// middle.
func numeral(n int, du, dv, height float64) float64 {
	if n < 0 || n > mostNumeral || labels()[n] == nil {
		return 0
	}
	im := labels()[n]
	k := glyphHeight / height
	return sampleAlpha(im, float64(im.Rect.Dx()-1)/2+du*k, float64(im.Rect.Dy()-1)/2+dv*k)
}

func sampleAlpha(im *image.Alpha, x, y float64) float64 {
	fx, fy := math.Floor(x), math.Floor(y)
	ix, iy := int(fx), int(fy)
	if ix < 0 || iy < 0 || ix+1 >= im.Rect.Dx() || iy+1 >= im.Rect.Dy() {
		return 0
	}
	x, y = x-fx, y-fy
	p := im.Pix[iy*im.Stride+ix:]
	q := p[im.Stride:]
	a := float64(p[0])*(1-x) + float64(p[1])*x
	b := float64(q[0])*(1-x) + float64(q[1])*x
	return (a*(1-y) + b*y) / 255
}
