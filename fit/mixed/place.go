package mixed

import (
	"math"

	"leadmark/fit/stat"
)

// Place is the quantile of y itself: the density between grid places is a parabola through both
// ends and the middle, the middle from a cubic through four log densities.
func (p *Posterior) Place(q float64) float64 {
	n := len(p.Points)
	if n == 1 {
		return p.Points[0].Y
	}
	cells, total := make([]parabola, n-1), 0.0
	for i := range cells {
		cells[i] = p.cell(i)
		total += cells[i].area(1)
	}
	sum := 0.0
	for i, c := range cells {
		if area := c.area(1); sum+area >= q*total {
			x := stat.Root(func(x float64) float64 { return (sum+c.area(x))/total - q }, 0, 1)
			return p.Points[i].Y + x*c.width
		} else {
			sum += area
		}
	}
	return p.Points[n-1].Y
}

// parabola is a density over one cell of the grid, by its values at 0, 1/2 and 1 of the width.
type parabola struct{ start, mid, end, width float64 }

// area is the integral from 0 to the share x of the cell.
func (c parabola) area(x float64) float64 {
	a, b := 2*(c.start-2*c.mid+c.end), -3*c.start+4*c.mid-c.end
	return c.width * (c.start*x + b*x*x/2 + a*x*x*x/3)
}

func (p *Posterior) cell(i int) parabola {
	log := func(k int) float64 { return p.Points[k].loglik + 0.5*math.Log(p.Points[k].Info) - p.Best.loglik }
	y := func(k int) float64 { return p.Points[k].Y }
	h, l1, l2 := y(i+1)-y(i), log(i), log(i+1)
	mid := (l1 + l2) / 2
	even := func(a, b int) bool { return a >= 0 && b < len(p.Points) && math.Abs(y(b)-y(a)-h) < 1e-6*h }
	if even(i-1, i) && even(i+1, i+2) {
		mid = (9*(l1+l2) - log(i-1) - log(i+2)) / 16
	}
	return parabola{math.Exp(l1), math.Exp(mid), math.Exp(l2), h}
}
