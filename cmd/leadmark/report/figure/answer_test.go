package figure

import (
	"math"
	"strings"
	"testing"

	"leadmark/calib"
	"leadmark/cmd/leadmark/report/figure/svg"
)

// A shot whose own lag lies far from the others is drawn at the figure's edge, marked as odd: none
// is left out without a word.
func TestEveryShotHasItsMarkInTheLagFigure(t *testing.T) {
	lags := []float64{0.050, 0.0505, 0.051, 0.2, math.NaN()}
	s := Shots{}
	for range lags {
		s.shots = append(s.shots, shot{FrameResult: &calib.FrameResult{}})
	}
	s.shots[3].Fit.Outlier = true
	a := svg.Axis{Lo: 49, Hi: 52, P0: 14, P1: 706}
	c := newCanvas(layouts[0], 250)
	swarm(c, s, lags, a, 100)
	drawn := c.Body()
	if n := strings.Count(drawn, `class="mk `); n != 3 {
		t.Errorf("%d marks of shots that are not odd\n%s", n, drawn)
	}
	if !strings.Contains(drawn, `class="outlier" cx="686"`) || strings.Count(drawn, "H704") != 1 {
		t.Errorf("the odd shot does not stand at the edge with an arrow out of it\n%s", drawn)
	}
}
