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
	const tried = 400
	for range tried {
		for what, length := range map[string]func(i int) float64{
			"fence": func(int) float64 { return 17 },
			"text":  func(int) float64 { return []float64{14, 17, 26}[rnd.IntN(3)] },
			"few tall letters": func(int) float64 {
				if rnd.IntN(12) == 0 {
					return 30
				}
				return 17
			},
		} {
			marks := millimetres(16+rnd.IntN(30), 3)
			for i := range marks {
				marks[i].Length = length(i) + rnd.NormFloat64()
			}
			if read(marks) {
				falsely[what]++
			}
		}
	}
	// Letters as even as these are hardly printed; where 15 nats were enough it would be 17.
	if n := falsely["fence"] + falsely["text"] + falsely["few tall letters"]; falsely["fence"] > 0 || n > 8 {
		t.Errorf("read of %d each: %v", tried, falsely)
	}
}
