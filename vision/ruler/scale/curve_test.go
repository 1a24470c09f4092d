package scale

import (
	"testing"

	"leadmark/vision/ruler"
)

// Lines along the arc of a dial, 40 graduations in radius, seem longer towards the ends of their chord by
// x^2/2R; a ruler that a lens bends, 5000 graduations in radius, is a ruler.
func TestDials(t *testing.T) {
	for _, c := range []struct {
		radius float64
		n      int
		curved bool
	}{{40, 21, true}, {40, 30, true}, {5000, 30, false}, {5000, 200, false}} {
		steps := steps([]int{10, 5}, []float64{3.4, 2.4})
		row := lines(c.n, func(i int) float64 {
			x := float64(i) - float64(c.n)/2
			return steps(i) + x*x/2/c.radius
		})
		l, _ := Fit(row.Marks)
		lengths := LengthsOf(row, &l)
		if got := lengths.Curved(Believed(Identify(row, lengths, ruler.Spec{}), ruler.Spec{Graduation: 1e-3})); got != c.curved {
			t.Errorf("%d lines, radius %v graduations: curved %v", c.n, c.radius, got)
		}
	}
}
