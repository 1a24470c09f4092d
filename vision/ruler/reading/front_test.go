package reading

import (
	"math/rand/v2"
	"testing"

	"leadmark/vision/ruler"
	"leadmark/vision/ruler/scale"
)

// millimetres are n marks of a millimetre ruler 10 px apart, their lengths each a little off.
func millimetres(n int, seed uint64) []ruler.Mark {
	r := rand.New(rand.NewPCG(seed, 9))
	var marks []ruler.Mark
	for i := range n {
		length := 1.7 // pitches
		switch {
		case i%10 == 0:
			length = 4
		case i%5 == 0:
			length = 2.6
		}
		length += 0.1 * r.NormFloat64()
		marks = append(marks, ruler.Mark{T: 10 * float64(i), Index: i, Length: 10 * length, Strength: 1})
	}
	return marks
}

// A ruler whose blank margin is 4 mm: where the row begins with what may be its zero line, a plain
// edge ten lines further on is the scene's, and no end at all is better than that one. Where the
// row begins elsewhere, lines are covered and the edge may be the end.
func TestEndBeyondTheFirstLine(t *testing.T) {
	marks := millimetres(60, 1)
	// at the reading -4 mm, were the row's first line that of 10 mm
	edge := ruler.Step{T: -140, Contrast: 50, Coherent: 1}
	known := frontKnown{index: -4, period: 10, margin: 4}
	for first, want := range map[int]bool{0: false, 3: true} {
		row := ruler.Row{Marks: marks[first:], Pitch: 10, Contrast: 60, Steps: []ruler.Step{edge}}
		l, ok := scale.Fit(row.Marks)
		if !ok {
			t.Fatal("no scale")
		}
		if _, ok := frontOf(row, &l, -1, known); ok != want {
			t.Errorf("first line seen is %d: an end found is %v, want %v", first, ok, want)
		}
	}
}
