package vision

import (
	"fmt"
	"math"
	"testing"

	"leadmark/ruler"
)

// slanted draws a straight edge five degrees off upright, as the slanted-edge method of ISO 12233 uses, blurred by a Gaussian and,
// across, by an exponential of known decay length; tones of sRGB.
func slanted(sigma, tail float64, left bool) (*gray, ruler.Line) {
	const w, h = 120, 120
	g := newGray(w, h)
	n := ruler.Point{X: math.Cos(5 * math.Pi / 180), Y: math.Sin(5 * math.Pi / 180)}
	mid := ruler.Point{X: 60, Y: 60}
	for y := range h {
		for x := range w {
			s := n.Dot(ruler.Point{X: float64(x), Y: float64(y)}.Sub(mid))
			if left {
				s = -s
			}
			g.pix[y*w+x] = toneOf(0.03 + 0.4*smearedStep(s+tail*math.Ln2, sigma, tail))
		}
	}
	along := n.Perp()
	return g, ruler.Line{A: mid.Sub(along.Mul(5)), B: mid.Add(along.Mul(5))}
}

// Analytic edges of known blur: a Gaussian is measured as it is to 3 %, a smear over it to 10 %, whichever side the tail is on.
func TestEdgesOfKnownBlur(t *testing.T) {
	for _, sigma := range []float64{0.7, 1, 2, 4} {
		for _, ratio := range []float64{0, 1, 2.5} {
			for _, left := range []bool{false, true} {
				t.Run(fmt.Sprint(sigma, ratio, left), func(t *testing.T) {
					g, l := slanted(sigma, sigma*ratio, left)
					mid := l.A.Add(l.B).Mul(0.5)
					e, ok := fitPlace(g, l, mid)
					if !ok {
						t.Fatal("not measured")
					}
					got := math.Sqrt(e.variance)
					if ratio == 0 {
						if math.Abs(got-sigma) > 0.03*sigma {
							t.Errorf("blur %.3f px, the edge has %.3f", got, sigma)
						}
						return
					}
					tail := sigma * smearOf(sigma, got/sigma)
					if math.Abs(tail-sigma*ratio) > max(0.1*sigma*ratio, 0.1) {
						t.Errorf("decay length %.3f px, the edge has %.3f", tail, sigma*ratio)
					}
				})
			}
		}
	}
}
