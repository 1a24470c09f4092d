package studies

import (
	"fmt"
	"math"
	"math/rand/v2"

	"leadmark/vision/ruler"
	"leadmark/vision/synth/looks"
	"leadmark/vision/synth/photo"
)

// CodeView is one picture of 30 mm of the coded ruler: what lies before is out of the picture,
// what lies behind is so too, or under a sleeve.
type CodeView struct {
	photo.Scene
	From    float64 // m, reading at the border of the picture
	PerMM   float64 // px
	Classes string  // what makes it difficult
}

// CodeViewAt poses one view: the ruler in any of the four ways and 15 degrees beside it, turned out of
// the plane by up to 15 degrees, 3 to 40 px a graduation, blurred by up to a third of a
// graduation, light falling off by up to three stops, a faint ghost, noise, glare.
func CodeViewAt(seed, number uint64) CodeView {
	rnd := rand.New(rand.NewPCG(seed, number))
	span := func(a, b float64) float64 { return a + (b-a)*rnd.Float64() }
	const length, shown = 0.800, 30 * mm
	v := CodeView{From: span(0, (length-shown)/mm) * mm}
	v.PerMM = 3 * math.Pow(4, rnd.Float64())
	if rnd.IntN(40) == 0 {
		v.PerMM = 12 * math.Pow(40.0/12, rnd.Float64())
	}
	travel := []string{"right", "left", "up", "down"}[rnd.IntN(4)]
	cut := rnd.IntN(2) == 0 // by the picture's border on both sides
	view := int(42*v.PerMM) + 60
	tilt := span(-15, 15) * deg
	if cut { // 30 mm of the ruler over its whole width
		sin, cos := math.Sincos(math.Abs(tilt))
		view = int((30*cos + 20*sin) * v.PerMM)
	}
	c := photo.Camera{Width: view, Height: int(34*v.PerMM) + 60, FocalPX: 0.3 / 0.001 * v.PerMM, K1: span(-0.03, 0.03)}
	if travel == "up" || travel == "down" {
		c.Width, c.Height = c.Height, c.Width
	}
	c.Centre = ruler.Point{X: float64(c.Width) / 2, Y: float64(c.Height) / 2}
	look := looks.Coded(length)
	look.Gloss = span(0, 0.1)
	kinds := []photo.BackdropKind{photo.Cloth, photo.Card, photo.Foliage, photo.Planks, photo.Soil}
	s := photo.Scene{Camera: c, Look: look, Backdrop: photo.Backdrop{Kind: kinds[rnd.IntN(5)], Behind: 0.1}}
	// The trip point is the picture's middle; the ruler passes it so far that From comes to lie
	// half a picture before it.
	half := float64(view) / 2 / v.PerMM * mm
	s.Track = photo.Track{Trip: photo.Vec{Z: 0.3}, Travel: travel, Tilt: tilt, Yaw: span(-15, 15) * deg,
		Roll: span(-15, 15) * deg}
	s.Pose = photo.Pose{Advance: v.From + half, Lateral: span(-2, 2) * mm}
	if !cut {
		s.Grips = []photo.Grip{{Kind: "sleeve", At: v.From + shown}}
	}
	graduation := v.PerMM
	blur := span(0, 0.33) * graduation
	share := span(0, 0.9)
	s.Softness = max(0.6, blur*(1-share))
	s.Speed, s.Exposure = span(0.5, 3), 0.005
	s.Flash = photo.Flash{Head: photo.Vec{X: span(-0.2, 0.2), Y: span(-0.3, -0.1), Z: span(-0.1, 0.12)},
		Power: span(0.5, 0.95),
		Fill:  span(0.02, 0.15)}
	// The picture is smeared by the front end's velocity in it; that end, up to 0.8 m away on a
	// track out of the picture's plane, is nearer or farther than what is in view.
	way := s.FrontVelocity().Len()
	s.Flash.Pulse = photo.TailFor(min(300e-6, share*blur/way*2.3/0.9))
	s.Sensor = photo.Sensor{FullWell: span(2500, 15000), Read: 10, Vignette: span(0, 1)}
	s.Ambient = span(0, 0.01)
	s.Seed, s.Shot = seed*1_000_003+number, number
	v.Scene = s
	v.Classes = fmt.Sprintf("%s %.1f px/mm blur %.2f", travel, v.PerMM, blur/graduation)
	return v
}
