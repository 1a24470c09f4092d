package main

import (
	"math"
	"math/rand/v2"

	"leadmark/vision/ruler"
	"leadmark/vision/synth/looks"
	"leadmark/vision/synth/photo"
)

const (
	mm  = 1e-3
	deg = math.Pi / 180
)

const oneFlash = "one flash"

// classes are what spoils the frames; in the last the second flash did not fire.
func classes() []string {
	return []string{"clean", "noisy", "blurred", "turned", "textured", oneFlash}
}

// place draws numbers for one scene.
type place struct{ *rand.Rand }

func (p place) span(a, b float64) float64 { return a + (b-a)*p.Float64() }

// sceneAt poses a frame of a class.
func sceneAt(class int, seed, number uint64) photo.Scene {
	p := place{rand.New(rand.NewPCG(seed, 1000*uint64(class)+number))}
	name := classes()[class]
	s := p.ruler(name, int(number))
	s.Speed, s.Exposure, s.Shadow = p.span(0.8, 4), 0.005, 30
	s.Softness = p.span(0.6, 1.1)
	s.Twin, s.TwinGain, s.Accel = 2e-3, math.Exp(p.span(-0.7, 0.7)), 9.8
	s.Flash = photo.Flash{Head: photo.Vec{X: p.span(-0.2, 0.2), Y: -0.2}, Power: 0.85, Fill: 0.1,
		Pulse: photo.TailFor(p.span(40, 110) * 1e-6)}
	s.Sensor = photo.Sensor{FullWell: p.span(5000, 15000), Read: 10, Vignette: 0.3}
	kinds := []photo.BackdropKind{photo.Cloth, photo.Card, photo.Plain}
	switch name {
	case "noisy":
		s.Sensor.FullWell = p.span(700, 2000)
	case "blurred":
		s.Softness = p.span(1.5, 2.3)
		s.Flash.Pulse = photo.TailFor(p.span(110, 220) * 1e-6)
	case "textured":
		kinds = []photo.BackdropKind{photo.Foliage, photo.Planks, photo.Soil}
	case oneFlash:
		s.Twin = 0
	}
	s.Backdrop = photo.Backdrop{Kind: kinds[p.IntN(len(kinds))], Behind: 0.1}
	s.Seed, s.Shot = p.Uint64(), number
	return s
}

// ruler poses camera and ruler.
func (p place) ruler(class string, number int) (s photo.Scene) {
	all := []looks.Look{looks.WhitePlastic(), looks.PaperStrip(), looks.Steel(), looks.BlackPlastic(), looks.Tape(),
		looks.InchRule(16), looks.SteelHalf(), looks.WoodRule()}
	s.Look = all[number%len(all)]
	travel := []string{"right", "down", "left", "up"}[p.IntN(4)]
	s.Camera = photo.Camera{Width: 1200, Height: 800, FocalPX: 4000, Centre: ruler.Point{X: 600, Y: 400}}
	if travel == "up" || travel == "down" {
		s.Camera.Width, s.Camera.Height, s.Camera.Centre = 800, 1200, ruler.Point{X: 400, Y: 600}
	}
	perMM := p.span(8, 16)
	if s.Look.Graduation() < 0.9*mm {
		perMM = p.span(15, 20)
	}
	turn := 5 * deg
	if class == "turned" {
		turn = 14 * deg
	}
	s.Track = photo.Track{Trip: photo.Vec{Z: 4000 / (perMM * 1000)}, Travel: travel, Tilt: p.span(-turn, turn),
		Yaw: p.span(-turn, turn), Roll: p.span(-turn, turn)}
	s.Pose = photo.Pose{Advance: p.span(0, 12) * mm, Lateral: p.span(-3, 3) * mm}
	return s
}

// moved is how far the ruler goes between a scene's flashes, m: uniform acceleration.
func moved(s *photo.Scene) float64 { return s.Speed*s.Twin + s.Accel*s.Twin*s.Twin/2 }

// leastMoved is how far apart two front ends must lie to be told apart, graduations.
const leastMoved = 0.8

// unreadable says why a frame need not be read, by the scene alone; "" where it is to be read.
func unreadable(s *photo.Scene, t photo.Truth) string {
	if why := s.Legible(t); why != "" {
		return why
	}
	beyond := func(v float64, end int) bool { return v > 30 && v < float64(end)-30 }
	switch {
	case !beyond(t.SecondPX.X, s.Camera.Width) || !beyond(t.SecondPX.Y, s.Camera.Height):
		return "second-front-out"
	case moved(s) < leastMoved*s.Look.Graduation():
		return "too-slow"
	}
	return ""
}
