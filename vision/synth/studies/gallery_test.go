package studies

import (
	"math"
	"testing"
)

// The gallery shows every look twice, in all four ways, turned out of the plane by more than 8
// degrees at times, each with its front and twenty graduations in view.
func TestGalleryIsReadable(t *testing.T) {
	turned, ways := 0.0, map[string]bool{}
	for _, g := range Gallery(6) {
		truth := g.Foretell()
		if !truth.Readable || len(truth.Graduations) < 20 {
			t.Errorf("%s (%s): %q, %d graduations", g.Name, g.Look.Name, truth.Why, len(truth.Graduations))
		}
		turned = max(turned, math.Abs(g.Track.Yaw), math.Abs(g.Track.Roll))
		ways[g.Track.Travel] = true
	}
	if len(ways) != 4 || turned < 8*deg || turned > 15*deg {
		t.Errorf("ways %v, turned by up to %.1f degrees", ways, turned/deg)
	}
}
