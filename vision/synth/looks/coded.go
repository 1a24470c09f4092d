package looks

import (
	"leadmark/vision/ruler/coded"
	"leadmark/vision/synth/paint"
)

// Coded is the coded ruler as it is printed, on a lath. Layout and sequence are what is printed,
// so they come from package coded.
func Coded(length float64) Look {
	lay := coded.Layout()
	s := Millimetres(length)
	s.LineWidth = lay.LineWidth
	s.Steps = []Step{{1, lay.Short}, {5, lay.Middle}, {10, lay.Long}}
	s.NumeralStep, s.NumeralHeight = 10, lay.NumeralHeight
	s.NumeralGap = lay.NumeralNear - lay.Long
	s.Code = &CodeTrack{Near: lay.CodeNear, Far: lay.CodeFar, Cells: int(length/mm + 1e-6), Dark: coded.Dark}
	return Look{Name: "coded", Length: length, Width: lay.Width, Base: paint.RGB{R: 0.78, G: 0.78, B: 0.75},
		Ink:   paint.Grey(0.05),
		Grain: Paper, GrainDepth: 0.04, Wear: 0.05, Opacity: 1, Scales: []Scale{s}}
}
