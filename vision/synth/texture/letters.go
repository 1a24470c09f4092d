package texture

import (
	"image"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gomedium"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

// sheet is how much ink lies where, repeated beyond its borders.
type sheet struct{ im *image.Alpha }

// at is the ink, 0 to 1.
func (s sheet) at(x, y float64) float64 {
	w, h := s.im.Rect.Dx(), s.im.Rect.Dy()
	fx, fy := math.Floor(x), math.Floor(y)
	tx, ty := x-fx, y-fy
	get := func(i, k int) float64 {
		return float64(s.im.Pix[((k%h+h)%h)*s.im.Stride+(i%w+w)%w])
	}
	i, k := int(fx), int(fy)
	a := get(i, k) + tx*(get(i+1, k)-get(i, k))
	b := get(i, k+1) + tx*(get(i+1, k+1)-get(i, k+1))
	return (a + ty*(b-a)) / 255
}

// face is a typeface of letters so many px high.
func face(l Lot, size float64) font.Face {
	parsed, err := opentype.Parse(Pick(l, gobold.TTF, gomedium.TTF, gomono.TTF))
	if err != nil {
		panic("the built-in font does not parse: " + err.Error())
	}
	f, err := opentype.NewFace(parsed, &opentype.FaceOptions{Size: size, DPI: 72})
	if err != nil {
		panic("the built-in font has no face: " + err.Error())
	}
	return f
}

// words are syllables by chance.
func words(l Lot, letters int) string {
	var b []byte
	for len(b) < letters {
		for range 1 + l.IntN(4) {
			b = append(b, "bdfghklmnprstvwz"[l.IntN(16)], "aeiou"[l.IntN(5)])
			if l.Chance(0.3) {
				b = append(b, "lmnrst"[l.IntN(6)])
			}
		}
		b = append(b, ' ')
	}
	return string(b)
}

// typeset is a page of words in lines.
func typeset(l Lot, w, h int) sheet {
	im := image.NewAlpha(image.Rect(0, 0, w, h))
	size := l.Span(14, 26)
	d := font.Drawer{Dst: im, Src: image.Opaque, Face: face(l, size)}
	for y := size; y < float64(h); y += 1.35 * size {
		d.Dot = fixed.P(-l.IntN(9), int(y))
		d.DrawString(words(l, 2*w/int(size)))
	}
	return sheet{im}
}

// Word is a word in ink, cut to its size.
func Word(text string) *image.Alpha {
	f := face(NewLot(uint64(len(text)), uint64(text[0])), 40)
	w := font.MeasureString(f, text).Ceil()
	im := image.NewAlpha(image.Rect(0, 0, w+2, 50))
	d := font.Drawer{Dst: im, Src: image.Opaque, Face: f, Dot: fixed.P(1, 38)}
	d.DrawString(text)
	return im
}

// Name is a word by chance.
func (l Lot) Name() string {
	return words(l, 5+l.IntN(8))
}
