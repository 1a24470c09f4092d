package svg

import (
	"leadmark/fit/unit"
	"math"
	"strconv"
	"strings"
)

// PX prints a coordinate to a tenth of a pixel.
func PX(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		v = 0
	}
	return strconv.FormatFloat(unit.Fixed(v, 1), 'f', -1, 64)
}

// Polyline is the path through the points.
func Polyline(xs, ys []float64) string {
	var b strings.Builder
	for i := range xs {
		op := "L"
		if i == 0 {
			op = "M"
		}
		b.WriteString(op + PX(xs[i]) + " " + PX(ys[i]))
	}
	return b.String()
}

// Ribbon is the closed path between two curves over the same xs.
func Ribbon(xs, lo, hi []float64) string {
	var b strings.Builder
	b.WriteString(Polyline(xs, hi))
	for i := len(xs) - 1; i >= 0; i-- {
		b.WriteString("L" + PX(xs[i]) + " " + PX(lo[i]))
	}
	b.WriteString("Z")
	return b.String()
}

// Polygon is a regular polygon of n corners, the first at angle a0.
func Polygon(x, y, r float64, n int, a0 float64) string {
	xs, ys := make([]float64, n), make([]float64, n)
	for i := range xs {
		sin, cos := math.Sincos(a0 + 2*math.Pi*float64(i)/float64(n))
		xs[i], ys[i] = x+r*cos, y+r*sin
	}
	return Polyline(xs, ys) + "Z"
}
