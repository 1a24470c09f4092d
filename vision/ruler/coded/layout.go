package coded

// Strip says where things stand on the coded ruler, in metres: across, from the edge at which
// its graduations begin.
type Strip struct {
	Width               float64
	Short, Middle, Long float64 // ends of the graduations of 1, 5 and 10 mm
	LineWidth           float64
	CodeNear, CodeFar   float64 // the row of cells
	NumeralNear         float64
	NumeralHeight       float64
}

// Layout is the layout of the coded ruler.
func Layout() Strip {
	return Strip{Width: 20e-3, Short: 3e-3, Middle: 4.5e-3, Long: 6e-3, LineWidth: 0.2e-3,
		CodeNear: 7.5e-3, CodeFar: 11e-3, NumeralNear: 12.5e-3, NumeralHeight: 3.5e-3}
}
