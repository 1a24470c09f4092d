package marks

import (
	"math"
	"math/rand/v2"
	"testing"

	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
)

// ramp is a picture whose tone rises and falls by 3 from pixel to pixel across and by 5 down.
func ramp(w, h int) *pixel.Gray {
	g := pixel.NewGray(w, h)
	for y := range h {
		row := g.Pix[y*w:][:w]
		for x := range row {
			row[x] = uint8(40 + max((x*3+y*5)%320-160, 160-(x*3+y*5)%320))
		}
	}
	return g
}

// Strips of up to 12,000 samples, at any angle and offset and along the borders, read what bilinear
// interpolation reads at each place: counting in rounded steps neither leaves the picture nor
// strays from the places.
func TestStripsOfAnyLengthStayInThePicture(t *testing.T) {
	pictures := []*pixel.Gray{
		ramp(12000, 40), ramp(40, 12000), ramp(8500, 8485), ramp(6000, 4000), ramp(2, 2), ramp(3, 900),
	}
	rnd := rand.New(rand.NewPCG(20, 12))
	longest := 0
	for k := range 3000 {
		g := pictures[rnd.IntN(len(pictures))]
		from, to := borderPlace(rnd, g), borderPlace(rnd, g)
		reach := to.Sub(from).Len()
		if reach < 1 {
			continue
		}
		step := math.Exp2(2 * rnd.Float64()) // of a level's pixels, 1 to 4
		if k%2 == 0 {
			step = 1
		}
		p := pixel.Pyramid{Levels: []*pixel.Gray{g}, Base: 1, W: g.W, H: g.H}
		o := stripOptions{step: step, reach: 1.5 * step, from: -20, to: reach + 20}
		s := newStrip(p, from, to.Sub(from).Mul(1/reach), o)
		longest = max(longest, s.nt)
		holdStrip(t, s, g, k)
		if t.Failed() {
			return
		}
	}
	if longest < 11000 {
		t.Errorf("the longest strip had %d samples", longest)
	}
}

// borderPlace is a place on a picture's border, or within a thousandth of a pixel of it, or in one
// of its corners.
func borderPlace(rnd *rand.Rand, g *pixel.Gray) ruler.Point {
	w, h := float64(g.W-1), float64(g.H-1)
	x, y := w*rnd.Float64(), h*rnd.Float64()
	near := 4e-3 * (rnd.Float64() - 0.5)
	switch rnd.IntN(5) {
	case 0:
		y = near
	case 1:
		y = h + near
	case 2:
		x = near
	case 3:
		x = w + near
	default:
		x, y = w*float64(rnd.IntN(2))+near, h*float64(rnd.IntN(2))-near
	}
	return ruler.Point{X: x, Y: y}
}

// holdStrip compares a strip with the picture at its places. A place is counted to 2^-8 px and
// strays by up to 2^-21 px a sample, along which the ramp changes by at most 3 tones across and 5
// down.
func holdStrip(t *testing.T, s *strip, g *pixel.Gray, k int) {
	t.Helper()
	for j := range s.nw {
		for i := range s.nt {
			at := s.place(s.t(i), s.w(j))
			want, ok := g.At(at.X, at.Y)
			got := float64(s.val[j*s.nt+i])
			if !ok { // on the very border the two may differ in the last place whether it is in
				if got == got && (at.X < -1e-6 || at.Y < -1e-6 || at.X > float64(g.W-1)+1e-6 ||
					at.Y > float64(g.H-1)+1e-6) {
					t.Errorf("strip %d: (%v, %v) lies outside and reads %g", k, at.X, at.Y, got)
				}
				continue
			}
			if off := 1.0/256 + float64(i)/(1<<21); !(math.Abs(got-want) <= 8*off+1e-3) {
				t.Errorf("strip %d of %d samples, sample %d at (%v, %v): reads %g, want %g", k, s.nt, i, at.X,
					at.Y, got, want)
				return
			}
		}
	}
}
