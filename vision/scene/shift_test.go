package scene

import (
	"math"
	"math/rand/v2"
	"testing"

	"leadmark/vision/ruler"
)

// cloth is a scene of waves whose tone at a place is known, moved by (dx, dy) places of 8 px; zoom is how
// many times as large it is about its middle. Light and noise differ from picture to picture.
func cloth(dx, dy, zoom, gain float64, seed uint64) ruler.Backdrop {
	const w, h = 160, 110
	rnd := rand.New(rand.NewPCG(seed, 19))
	b := ruler.Backdrop{Width: w, Height: h, Scale: 8, Tone: make([]uint8, w*h), Hidden: make([]bool, w*h)}
	for y := range h {
		for x := range w {
			u, v := (float64(x)-w/2)/zoom+w/2-dx, (float64(y)-h/2)/zoom+h/2-dy
			tone := 85 + 0.35*u + 30*math.Sin(0.31*u+0.12*v) + 25*math.Sin(0.27*v-0.09*u) + 15*math.Sin(0.53*u+0.44*v)
			b.Tone[y*w+x] = uint8(gain*tone + 2*rnd.NormFloat64())
			b.Hidden[y*w+x] = y > 40 && y < 55 // a ruler
		}
	}
	return b
}

// A scene that lies so far to the right and up is said to, as surely as is stated, whatever light the
// flash gave; one that was zoomed has parts that moved otherwise.
func TestShift(t *testing.T) {
	square, n := 0.0, 0.0
	for seed := range uint64(12) {
		rnd := rand.New(rand.NewPCG(seed, 3))
		dx, dy := 4*rnd.Float64()-2, 4*rnd.Float64()-2
		s, ok := Shift(cloth(0, 0, 1, 1, 100+seed), cloth(dx, dy, 1, 0.75+0.3*rnd.Float64(), 200+seed))
		off := s.Move.Sub(ruler.Point{X: 8 * dx, Y: 8 * dy})
		if !ok || !(off.Len() < 0.25) || !s.Whole {
			t.Errorf("moved by (%.2f, %.2f) px: said to be %+v, %v", 8*dx, 8*dy, s, ok)
		}
		unit := s.Move.Unit()
		along := off.Dot(unit) / s.U(s.Middle, unit)
		square, n = square+along*along, n+1
		if s.Warp > 4*s.WarpU+0.2 {
			t.Errorf("nothing was zoomed: parts moved %.2f px (u %.2f) otherwise", s.Warp, s.WarpU)
		}
	}
	if spread := math.Sqrt(square / n); !(spread > 0.1 && spread < 1.6) { // of twelve
		t.Errorf("error over stated uncertainty %.2f", spread)
	}
	s, ok := Shift(cloth(0, 0, 1, 1, 1), cloth(1, 1, 1.02, 1, 2))
	if !ok || !(math.Abs(s.Grown-0.02*s.Half) < 1) {
		t.Errorf("zoomed by 2 %%: grown by %.2f px at the rim, %.2f px from the middle, %v", s.Grown, s.Half, ok)
	}
}
