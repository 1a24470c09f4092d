package figure

import (
	"math"
	"slices"

	"leadmark/cmd/leadmark/report/phrase"
)

// stretch is some frames in a row, of a run with too many for a mark each; else it is one.
type stretch struct {
	from  int // the first frame's place among the shots
	shots []shot
}

const (
	narrowestStretch = 8  // px
	fewestInStretch  = 10 // frames: of fewer the middle half says nothing
)

func stretchesOf(p *plot, s Shots) []stretch {
	n := len(s.shots)
	many := n
	if s.crowded() {
		many = min(n/fewestInStretch, int((p.x.P1-p.x.P0)/narrowestStretch))
	}
	out := make([]stretch, many)
	for k := range out {
		from, to := k*n/many, (k+1)*n/many
		out[k] = stretch{from, s.shots[from:to]}
	}
	return out
}

// expected is the standard deviation, m, of the residual of a shot that is any of the stretch's.
func (c stretch) expected() float64 {
	if len(c.shots) == 1 {
		return expected(c.shots[0])
	}
	square := 0.0
	for _, x := range c.shots {
		square += expected(x) * expected(x) / float64(len(c.shots))
	}
	return math.Sqrt(square)
}

func drawStretches(p *plot, s Shots, stretches []stretch) {
	for _, c := range stretches {
		c.draw(p)
	}
	thin := newThinner(s)
	for i, x := range s.shots {
		if x.Fit.Outlier {
			thin.mark(p.Canvas, x, p.x.At(float64(i+1)), residualAt(p, x), 0, 5.5)
		}
	}
}

// draw draws from where to where the residuals of a stretch go, and their middle half.
func (c stretch) draw(p *plot) {
	var y []float64
	for _, x := range c.shots {
		if !x.Fit.Outlier {
			y = append(y, p.y.At(x.Fit.Residual/phrase.MM.SI))
		}
	}
	if len(y) == 0 {
		return
	}
	slices.Sort(y)
	x0, x1 := p.x.At(float64(c.from)+0.5), p.x.At(float64(c.from+len(c.shots))+0.5)
	mid, n := (x0+x1)/2, len(y)
	p.Line("range", mid, y[0], mid, y[n-1])
	p.Rect("bar s0", mid-0.4*(x1-x0), y[n/4], 0.8*(x1-x0), y[n-1-n/4]-y[n/4])
}
