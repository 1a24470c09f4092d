package pixel_test

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"math/rand/v2"
	"strings"
	"testing"

	"leadmark/vision/pixel"
)

// grain is a picture of a gentle slope with noise of a few code values, changed by a function of
// the place.
func grain(w, h int, f func(x, y int) int) *image.Gray {
	m, r := image.NewGray(image.Rect(0, 0, w, h)), rand.New(rand.NewPCG(3, 4))
	for y := range h {
		for x := range w {
			v := 50 + x/4 + y/8 + int(2*r.NormFloat64()) + f(x, y)
			m.SetGray(x, y, color.Gray{Y: uint8(max(0, min(255, v)))})
		}
	}
	return m
}

// Pictures whose edges lie on the borders of coding units are sound.
func TestEdgesOnUnitsAreNoDamage(t *testing.T) {
	for name, f := range map[string]func(x, y int) int{
		"plain":        func(x, y int) int { return 0 },
		"horizon":      func(x, y int) int { return -(y / 160 * 200) },
		"stripes":      func(x, y int) int { return y / 16 % 2 * 120 },
		"squares":      func(x, y int) int { return (y/16 + x/16) % 2 * 120 },
		"bars":         func(x, y int) int { return map[bool]int{true: -255}[y < 32 || y >= 208] },
		"ruler's edge": func(x, y int) int { return map[bool]int{true: 90}[x >= 64 && y >= 80] },
		"stairs":       func(x, y int) int { return (x + y) / 16 * 9 },
	} {
		data, err := library.EncodeJPEG(grain(336, 240, f), 92)
		if err != nil {
			t.Fatal(err)
		}
		for _, denom := range []int{1, 2, 4} {
			if _, err := pixel.DecodeJPEG(library, data, make([]byte, 336*240), 336, 240, denom); err != nil {
				t.Errorf("%s at 1/%d: %v", name, denom, err)
			}
		}
	}
}

// Three kinds of damage that leave a code as it may be: all that follows from a unit on brighter, as a
// wrong mean makes it (T.81, F.1.1.5.1); another width in the header; and quanta of nought, which
// B.2.4.1 rules out: the first, of the means, and another.
func TestDamageThatDecodes(t *testing.T) {
	const w, h = 336, 240
	whole := func(f func(x, y int) int) []byte {
		data, err := library.EncodeJPEG(grain(w, h, f), 92)
		if err != nil {
			t.Fatal(err)
		}
		return data
	}
	brighter := whole(func(x, y int) int { return map[bool]int{true: 30}[y/8*42+x/8 >= 12*42+20] })
	turned := whole(func(x, y int) int { return map[bool]int{true: 80}[x > 100 && x < 180] })
	at := bytes.Index(turned, []byte{0xFF, 0xC0, 0, 11, 8})
	binary.BigEndian.PutUint16(turned[at+5:], w)
	binary.BigEndian.PutUint16(turned[at+7:], h)
	nought := func(k int) []byte {
		data := whole(func(x, y int) int { return 0 })
		data[bytes.Index(data, []byte{0xFF, 0xDB})+5+k] = 0
		return data
	}
	for _, c := range []struct {
		data []byte
		w, h int
		want string
	}{{nought(0), w, h, "quanta"}, {nought(9), w, h, "quanta"}, {brighter, w, h, "brighter or darker"},
		{turned, h, w, "do not fit"}} {
		_, err := pixel.DecodeJPEG(library, c.data, make([]byte, w*h), c.w, c.h, 1)
		if err == nil || !strings.Contains(err.Error(), c.want) ||
			!strings.Contains(err.Error(), "copy it from the card again") {
			t.Errorf("%v, want %q", err, c.want)
		}
	}
}
