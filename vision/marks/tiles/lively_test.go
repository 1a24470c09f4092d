package tiles

import (
	"math/rand/v2"
	"testing"

	"leadmark/vision/pixel"
)

// Lines side by side make a tile worth a transform, be they little more than its noise, and so does what
// crosses them; noise alone does not.
func TestLively(t *testing.T) {
	const noise, tries = 2.5, 200
	for _, c := range []struct {
		name  string
		tone  func(x, y int) float64
		least float64 // share of the tiles
		most  float64
	}{
		{"noise", func(x, y int) float64 { return 0 }, 0, 0.2},
		{"faint lines", func(x, y int) float64 { return lines(x, 5, 6) }, 0.95, 1},
		{"lines over a third", func(x, y int) float64 {
			if y < 10 {
				return lines(x, 5, 14)
			}
			return 0
		}, 0.9, 1},
		{"crossed slats", func(x, y int) float64 { return lines(x, 5, 25) + lines(y, 5, 25) }, 1, 1},
	} {
		r := rand.New(rand.NewPCG(4, 4))
		n := 0
		for range tries {
			g := pixel.NewGray(Side, Side)
			for i := range g.Pix {
				g.Pix[i] = uint8(120 + c.tone(i%Side, i/Side) + noise*r.NormFloat64())
			}
			if lively(g, 0, 0) {
				n++
			}
		}
		if share := float64(n) / tries; share < c.least || share > c.most {
			t.Errorf("%s: %.2f of the tiles are lively, want %.2f to %.2f", c.name, share, c.least, c.most)
		}
	}
}

// lines are so much lighter over two of so many px.
func lines(x, every int, tone float64) float64 {
	if x%every < 2 {
		return tone
	}
	return 0
}
