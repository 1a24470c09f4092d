package pixel

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

// Half is the mean of four pixels, a half rounded up, of pictures of any width, the darkest and the
// lightest included.
func TestHalf(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 9))
	for w := range 40 {
		g := NewGray(w, 7)
		for i := range g.Pix {
			g.Pix[i] = []uint8{0, 255, uint8(r.IntN(256))}[r.IntN(3)]
		}
		o := g.Half()
		if o.W != w/2 || o.H != 3 {
			t.Fatalf("half of %d x 7 is %d x %d", w, o.W, o.H)
		}
		for y := range o.H {
			for x := range o.W {
				at := func(dx, dy int) int { return int(g.Pix[(2*y+dy)*w+2*x+dx]) }
				want := (at(0, 0) + at(1, 0) + at(0, 1) + at(1, 1) + 2) / 4
				if got := int(o.Pix[y*o.W+x]); got != want {
					t.Fatalf("width %d, pixel %d %d: %d, want %d", w, x, y, got, want)
				}
			}
		}
	}
}

func BenchmarkHalf(b *testing.B) {
	for _, size := range [][2]int{{6000, 4000}} {
		g := NewGray(size[0], size[1])
		b.Run(fmt.Sprint(size), func(b *testing.B) {
			for b.Loop() {
				g.Half()
			}
		})
	}
}
