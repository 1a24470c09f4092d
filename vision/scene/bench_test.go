package scene

import (
	"testing"

	"leadmark/vision/ruler"
)

// BenchmarkShift compares two frames of a camera that stood still.
func BenchmarkShift(b *testing.B) {
	still := drawn(ruler.Shift{Half: 1214}, 60, nil)
	other := drawn(ruler.Shift{Half: 1214, Move: ruler.Point{X: 0.02}}, 60, nil)
	for b.Loop() {
		Shift(still, other)
	}
}
