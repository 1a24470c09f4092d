package studies

import (
	"testing"

	"leadmark/vision/synth/photo"
)

// A long strip close by reaches far out of the picture, where nothing is seen of it: this view
// shows it from 764 mm on.
func TestNothingIsSeenFarAside(t *testing.T) {
	_, truth := photo.Render(CodeViewAt(424242, 6527).Scene)
	if len(truth.Graduations) < 25 {
		t.Fatalf("%d graduations", len(truth.Graduations))
	}
	for _, g := range truth.Graduations {
		if g.ReadingMM < 760 {
			t.Errorf("the line at %v mm is said to be seen", g.ReadingMM)
		}
	}
}
