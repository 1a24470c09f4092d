package vision

import "image"

// units are a JPEG's coding units (MCU, T.81, A.2): what lies together in its data.
type units struct {
	size image.Point // of one, px of the picture as decoded
	all  int         // in the whole picture
}

// wrapping tells a JPEG whose header states another width than its data were made with: the rows of coding units then break at
// another place, so that none fits on the one above.
type wrapping struct {
	g    *gray
	w, h int // of a coding unit, px
	n    int // coding units in a row
}

// Rows that do not fit: where one coding unit meets the next below, the tone jumps unfitting times as much as inside one, and by worthSeeing
// code values more. Where the data were made for another width, the jump there is at most half as large.
const (
	unfitting   = 3
	worthSeeing = 2
)

// wrapped says whether the rows of a decoded picture fit badly as they lie and well with another width. What has edges along the rows in truth
// fits no better elsewhere. g may be the picture's upper part.
func wrapped(g *gray, u units) bool {
	if u.size.X < 1 || u.size.Y < 2 || g.w < 2*u.size.X || g.h < 2*u.size.Y {
		return false
	}
	t := wrapping{g: g, w: u.size.X, h: u.size.Y, n: (g.w + u.size.X - 1) / u.size.X}
	jump := t.jump(t.n)
	if jump < unfitting*t.inside()+worthSeeing {
		return false
	}
	for n := 2; n <= u.all/2; n++ {
		if u.all%n == 0 && n%t.n != 0 && t.jump(n) < jump/2 {
			return true
		}
	}
	return false
}

// jump is the mean step of the tone from the last line of each coding unit to the first of the one that lies n further on.
func (t wrapping) jump(n int) float64 {
	sum, count := 0, 0
	for i := 0; i+n < t.n*(t.g.h/t.h); i++ { // the lowest row may be cut
		x, y := i%t.n*t.w, i/t.n*t.h+t.h-1
		u, v := (i+n)%t.n*t.w, (i+n)/t.n*t.h
		sum += gap(t.g.pix[y*t.g.w+x], t.g.pix[v*t.g.w+u])
		count++
	}
	return float64(sum) / float64(max(count, 1))
}

// inside is the mean step of the tone between two lines inside each coding unit.
func (t wrapping) inside() float64 {
	sum, count := 0, 0
	for y := (t.h - 1) / 4; y+1 < t.g.h; y += t.h {
		for x := 0; x < t.g.w; x += t.w {
			sum += gap(t.g.pix[y*t.g.w+x], t.g.pix[(y+1)*t.g.w+x])
			count++
		}
	}
	return float64(sum) / float64(max(count, 1))
}

// gap is by how many code values two tones differ.
func gap(a, b uint8) int { return max(int(a), int(b)) - min(int(a), int(b)) }
