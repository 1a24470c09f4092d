package reading

import (
	"math/rand/v2"
	"testing"

	"leadmark/vision/ruler"
)

// However even a row is, it is no ruler's unless its lines are long and short in a ruler's order: a
// fence's are alike, and those of text differ by chance. A millimetre ruler's is one.
func TestEvenRowsAreNoRulers(t *testing.T) {
	rnd := rand.New(rand.NewPCG(6, 19))
	read := func(marks []ruler.Mark) bool {
		row := ruler.Row{Dir: ruler.Point{X: 1}, Side: 1, Pitch: 10, HalfLength: 8, Contrast: 0.4, DarkMarks: true,
			Tone: 0.7, Noise: 0.01, Marks: marks}
		for i := range marks {
			marks[i].U = 0.05
		}
		s := ruler.Sighting{Width: 900, Height: 300, Rows: []ruler.Row{row}}
		return Interpret(s, ruler.Spec{}).Status == ruler.StatusRead
	}
	if !read(millimetres(60, 3)) {
		t.Error("a millimetre ruler's row is not read")
	}
	falsely := map[string]int{}
	for range 200 {
		fence, text := millimetres(60, 3), millimetres(60, 3)
		for i := range fence {
			fence[i].Length = 17 + rnd.NormFloat64()
			text[i].Length = []float64{14, 17, 26}[rnd.IntN(3)] + rnd.NormFloat64()
		}
		if read(fence) {
			falsely["fence"]++
		}
		if read(text) {
			falsely["text"]++
		}
	}
	if len(falsely) > 0 {
		t.Errorf("read of 200 each: %v", falsely)
	}
}
