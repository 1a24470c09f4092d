package figure

import "testing"

// TestNoSmallLetters holds the text of figures to 14 px or more on every screen.
func TestNoSmallLetters(t *testing.T) {
	// A figure shrinks at most to its column: 288 px on a screen of 320, 589 at 640, 912 at 992,
	// and 145 mm on paper.
	for i, column := range []float64{288, 145 / 25.4 * 96, 912} {
		if l := layouts[i]; l.font*column/l.width < 14 {
			t.Errorf("text of the %s figures shrinks to %.1f px", l.class, l.font*column/l.width)
		}
	}
}
