package reading

import (
	"math"
	"testing"

	"leadmark/vision/ruler"
)

// An end is where its edge crosses the long axis, as sure as the edge is there: of an edge known to
// 0.02 px at its middle and 1 mrad, 30 px from there, to sqrt(0.02^2 + 0.03^2) px.
func TestAnEndIsAsSureAsItsEdge(t *testing.T) {
	side := func(y float64) *ruler.Line {
		return &ruler.Line{A: ruler.Point{X: 0, Y: y}, B: ruler.Point{X: 99, Y: y}}
	}
	edge := ruler.Step{T: 50, U: 0.02, TurnU: 1e-3, WidthPX: tenNinety * 0.8, Contrast: 0.5, Coherent: 1,
		Line: ruler.Line{A: ruler.Point{X: 50, Y: -10}, B: ruler.Point{X: 50, Y: 10}}}
	row := ruler.Row{Dir: ruler.Point{X: 1}, Side: 1, Pitch: 10, Steps: []ruler.Step{edge}, SideBlur: 0.8,
		Sides: ruler.Sides{side(-10), side(70)}}
	end := candidate{row: row}.end(edge)
	if end.At.Sub(ruler.Point{X: 50, Y: 30}).Len() > 1e-9 {
		t.Errorf("the end lies at %v", end.At)
	}
	if want := math.Hypot(0.02, 0.03); math.Abs(end.U-want) > 1e-4 {
		t.Errorf("known to %.4f px, its edge to %.4f", end.U, want)
	}
}
