package scale

import (
	"math"
	"testing"

	"leadmark/vision/ruler"
)

// The next section of a folding rule lies nearer the camera or further from it: its lines are set off, by the
// laws of central projection. Lenses that bend a row by half a percent, and a tilted ruler's perspective, set
// none off.
func TestSetOff(t *testing.T) {
	row := func(at func(i int) float64) (marks []ruler.Mark) {
		for i := range 80 {
			if i < 40 || i > 48 { // the hinge's plate hides some
				marks = append(marks, ruler.Mark{Index: i, T: at(i) + 0.1*math.Sin(float64(7*i*i))})
			}
		}
		return marks
	}
	const pitch = 12.0
	section := func(i int) float64 { // 3 mm nearer, seen from 400 mm: larger by 3/397
		if i < 44 {
			return pitch * float64(i)
		}
		return pitch * (float64(i)*400/397 + 0.1)
	}
	lens := func(i int) float64 { m := (float64(i) - 40) / 40; return pitch * (float64(i) + 0.005*40*m*m*m) }
	tilted := func(i int) float64 { return pitch * float64(i) / (1 + 0.003*float64(i)) }
	for _, c := range []struct {
		name      string
		at        func(i int) float64
		want, off float64
	}{{"a joint", section, pitch * (44.5*3/397 + 0.1), 1}, {"a lens", lens, 0, 0}, {"perspective", tilted, 0, 0}} {
		if got := SetOff(row(c.at)); math.Abs(got-c.want) > c.off {
			t.Errorf("%s: set off by %.2f px, want %.2f", c.name, got, c.want)
		}
	}
}
