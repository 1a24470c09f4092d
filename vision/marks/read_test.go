package marks

import (
	"testing"

	"leadmark/vision/ruler"
)

// Of a row whose lines are all alike, or too few, nobody asks where it ends; of a ruler's, and of one that is
// like other frames', yes.
func TestMayBeRead(t *testing.T) {
	row := func(n int, long func(i int) bool) ruler.Row {
		r := ruler.Row{Pitch: 10, HalfLength: 8}
		for i := range n {
			m := ruler.Mark{Index: i, T: 10 * float64(i), Length: 17 + float64(i*i%3)/5, Strength: 1}
			if long(i) {
				m.Length += 15
			}
			r.Marks = append(r.Marks, m)
		}
		return r
	}
	tens, none := func(i int) bool { return i%10 == 3 }, func(int) bool { return false }
	for _, c := range []struct {
		name string
		row  ruler.Row
		hint ruler.Hint
		want bool
	}{
		{"a ruler", row(40, tens), ruler.Hint{}, true}, {"a fence", row(40, none), ruler.Hint{}, false},
		{"few lines", row(9, tens), ruler.Hint{}, false}, {"as other frames show it", row(40, none), ruler.Hint{Pitch: 10}, true},
		{"under two flashes", row(40, none), ruler.Hint{Twin: &ruler.Spec{}}, true},
	} {
		if got := mayBeRead(c.row, c.hint); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}
