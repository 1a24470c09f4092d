package ruler

import "testing"

// A ruler whose blank margin is 4 mm: where the row begins with what may be its zero line, a plain
// edge ten lines further on is the scene's, and no end at all is better than that one. Where the
// row begins elsewhere, lines are covered and the edge may be the end.
func TestEndBeyondTheFirstLine(t *testing.T) {
	marks := rowOf(60, 1, millimetre)
	for i := range marks {
		marks[i].Strength = 1
	}
	edge := Step{T: -140, Contrast: 50, Coherent: 1} // at the reading -4 mm, were the row's first line that of 10 mm
	known := frontKnown{index: -4, period: 10, margin: 4}
	for first, want := range map[int]bool{0: false, 3: true} {
		row := Row{Marks: marks[first:], Pitch: 10, Contrast: 60, Steps: []Step{edge}}
		l, ok := fitLattice(row.Marks)
		if !ok {
			t.Fatal("no scale")
		}
		if _, ok := frontOf(row, &l, -1, known); ok != want {
			t.Errorf("first line seen is %d: an end found is %v, want %v", first, ok, want)
		}
	}
}
