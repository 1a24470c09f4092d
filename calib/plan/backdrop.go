package plan

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"leadmark/calib/input"
)

// RGB is a colour in sRGB, 0 to 255 each.
type RGB [3]uint8

// ParseColour reads a colour as "#c08040".
func ParseColour(text string) (RGB, error) {
	digits := strings.TrimPrefix(strings.TrimSpace(text), "#")
	n, err := strconv.ParseUint(digits, 16, 32)
	if err != nil || len(digits) != 6 {
		return RGB{}, &input.Error{File: "--colour", What: fmt.Sprintf("%q is not a colour", text),
			Hint: "write six hexadecimal digits, red, green and blue, such as #c08040; or give a " +
				"picture with --colour-from"}
	}
	return RGB{uint8(n >> 16), uint8(n >> 8), uint8(n)}, nil
}

// Backdrop says which single-colour backdrop lies further from the subject's colours.
type Backdrop struct {
	Choose      string  // blue or green
	Blue, Green float64 // distance of the subject's nearest tenth, CIE 1976 (L*, a*, b*)
}

// The backdrops, as papers and cloths for cutting out come (common practice, no source).
var (
	screenBlue  = RGB{0, 71, 187}
	screenGreen = RGB{0, 177, 64}
)

// nearestTenth is which share of the subject's colours may lie nearer to the backdrop than the
// distance told.
const nearestTenth = 0.1

// ChooseBackdrop holds the subject's colours, one or those of a picture, against blue and green.
// Not their mean decides but the tenth nearest to the backdrop, where cutting out fails first.
func ChooseBackdrop(colours []RGB) Backdrop {
	far := func(screen RGB) float64 {
		to := lab(screen)
		d := make([]float64, len(colours))
		for i, c := range colours {
			x := lab(c)
			d[i] = math.Sqrt(sq(x[0]-to[0]) + sq(x[1]-to[1]) + sq(x[2]-to[2]))
		}
		slices.Sort(d)
		return d[int(nearestTenth*float64(len(d)))]
	}
	b := Backdrop{Choose: "blue", Blue: far(screenBlue), Green: far(screenGreen)}
	if b.Green > b.Blue {
		b.Choose = "green"
	}
	return b
}

// lab is a colour of sRGB (IEC 61966-2-1) in CIE 1976 (L*, a*, b*) under D65 (ISO/CIE 11664-4).
func lab(c RGB) [3]float64 {
	var lin [3]float64
	for i, v := range c {
		x := float64(v) / 255
		if x <= 0.04045 {
			lin[i] = x / 12.92
		} else {
			lin[i] = math.Pow((x+0.055)/1.055, 2.4)
		}
	}
	xyz := [3]float64{
		0.4124*lin[0] + 0.3576*lin[1] + 0.1805*lin[2],
		0.2126*lin[0] + 0.7152*lin[1] + 0.0722*lin[2],
		0.0193*lin[0] + 0.1192*lin[1] + 0.9505*lin[2],
	}
	f := func(t float64) float64 {
		if t > 216.0/24389 {
			return math.Cbrt(t)
		}
		return (24389.0/27*t + 16) / 116
	}
	x, y, z := f(xyz[0]/0.9505), f(xyz[1]), f(xyz[2]/1.089)
	return [3]float64{116*y - 16, 500 * (x - y), 200 * (y - z)}
}
