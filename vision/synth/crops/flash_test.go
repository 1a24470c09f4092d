package crops

import (
	"math"
	"testing"
)

// The light of a flash that fades is all given off, half of it behind the place that the ruler is drawn
// at; of one that fades out its middle lies 1 - ln 2 = 0.307 time constants ahead of that place.
func TestFlash(t *testing.T) {
	for _, fade := range []float64{0.01, 1, 8} {
		s := Scene{Motion: 2, Fade: fade}
		s.Pose.PxPerMM = 10
		sum, before, mean := 0.0, 0.0, 0.0
		for _, p := range s.flash() {
			sum, mean = sum+p.share, mean+p.share*(p.from+p.to)/2
			before += p.share * max(0, min(1, -p.from/(p.to-p.from)))
		}
		if math.Abs(sum-1) > 1e-9 || math.Abs(before-0.5) > 0.02 {
			t.Errorf("fade %v: %.3f of the light, %.3f of it before the middle", fade, sum, before)
		}
		if want := 0.307 * 2 / fade; fade == 8 && math.Abs(mean-want) > 0.03*want {
			t.Errorf("its mean lies %.3f mm ahead, want %.3f", mean, want)
		}
	}
}
