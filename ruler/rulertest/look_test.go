package rulertest

import (
	"image/png"
	"math"
	"os"
	"testing"
	"time"

	"leadmark/ruler"
)

func TestPeek(t *testing.T) {
	for name, lk := range map[string]Look{"white": WhitePlastic(), "steel": SteelHalf(), "wood": WoodRule(), "clear": ClearPlastic(), "two": TwoScales(), "tape": Tape(), "black": BlackPlastic()} {
		s := Scene{Camera: Camera{Width: 1800, Height: 1200, FocalPX: 6000, Centre: ruler.Point{X: 900, Y: 600}},
			Track: Track{Trip: Vec{-0.02, 0, 0.5}, Travel: "right", Tilt: 0.05, Roll: 0.05, Yaw: 0.05},
			Pose:  Pose{Advance: 0.07}, Look: lk, Flash: Flash{Head: Vec{-0.15, -0.25, 0.1}, Power: 0.9, Fill: 0.1, Pulse: TailFor(150e-6)},
			Backdrop: Backdrop{Kind: Foliage, Behind: 0.2}, Block: &Block{Gap: 0.02, Front: true, Bore: 0.009}, Sensor: Sensor{FullWell: 15000, Read: 12, Vignette: 0.5},
			Speed: 2, Exposure: 0.005, Ambient: 0.01, Softness: 0.8, Shadow: 60, Seed: 5}
		t0 := time.Now()
		im, tr := Render(s)
		t.Log(name, time.Since(t0), tr.FrontPX, len(tr.Graduations), tr.Why, tr.PxPerMM, math.Round(tr.BlurPX*100))
		f, _ := os.Create("/tmp/peek_" + name + ".png")
		png.Encode(f, im)
		f.Close()
	}
}
