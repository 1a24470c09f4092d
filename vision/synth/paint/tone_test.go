package paint

import "testing"

// Pairs of the sRGB curve: 0.5 of full code is linear 0.2140 (IEC 61966-2-1); mid-grey 0.18 is
// code 118.
func TestToneCurve(t *testing.T) {
	curve := Tone()
	for x, want := range map[float32]uint8{0: 0, 1: 255, 0.18: 118, 0.2140: 128, 0.0031308: 10, 2: 255, -1: 0} {
		if got := Code(curve, x); int(got) < int(want)-1 || int(got) > int(want) {
			t.Errorf("linear %g is code %d, want %d", x, got, want)
		}
	}
}
