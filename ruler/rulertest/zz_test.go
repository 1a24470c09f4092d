package rulertest

import (
	"math"
	"testing"
)

func TestZZ(t *testing.T) {
	for _, d := range []float64{0, 0.03, 0.05} {
		s := plainScene()
		s.Look.Base, s.Backdrop.Colour = grey(0.8), grey(0.02)
		s.Pose.Advance += d * mm
		im, truth := linearPicture(s)
		y := int(truth.FrontPX.Y)
		t.Log(truth.FrontPX)
		for x := 1248; x < 1256; x++ {
			t.Logf("%.4f %.4f", (float64(im.v[y*im.w+x])-.01772)/(.79810-.01772), 0.5*math.Erfc((float64(x)-truth.FrontPX.X)/math.Sqrt(2*(1+1.0/12))))
		}
	}
}
