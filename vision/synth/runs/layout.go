package runs

import (
	"math"
	"math/rand/v2"

	"leadmark/vision/ruler"
	"leadmark/vision/synth/looks"
	"leadmark/vision/synth/photo"
)

const (
	tripPart  = 0.17   // of the picture's length, from where the ruler comes in to the trip point
	fieldPart = 0.70   // of the picture's length, for the longest advance
	focal     = 0.060  // m, of the lens
	sensor    = 0.0235 // m, long side of the sensor
)

// layout sets up the camera and the track so that every planned advance is in the picture.
func (r *RunSpec) layout(rnd *rand.Rand) photo.Scene {
	c := photo.Camera{Width: r.Width, Height: r.Height, K1: r.K1,
		FocalPX: focal / sensor * float64(max(r.Width, r.Height))}
	c.Centre = ruler.Point{X: float64(r.Width-1)/2 + 4*rnd.NormFloat64(),
		Y: float64(r.Height-1)/2 + 4*rnd.NormFloat64()}
	along, across := float64(r.Width), float64(r.Height)
	if r.Travel == "down" || r.Travel == "up" {
		along, across = across, along
	}
	before := tripPart / fieldPart * r.longest() // m in view before the trip point
	if r.Block != nil {
		before = max(before, r.Block.Gap+12*mm)
	}
	perM := min((tripPart+fieldPart)*along/(before+r.longest()), 0.6*across/r.Look.Width, 40e3)
	s := photo.Scene{Camera: c, Look: r.Look, Backdrop: r.Backdrop, Block: r.Block, Softness: r.Softness,
		Ambient: r.Ambient, Exposure: 1.0 / 200, Twin: r.Twin, TwinGain: r.TwinGain, Seed: uint64(r.Seed),
		Sensor: photo.Sensor{FullWell: r.FullWell, Read: 10, Vignette: 0.4}}
	sn, cs := math.Sincos(photo.Heading(r.Travel))
	d := before*perM - 0.5*along
	side := 0.06 * across * (rnd.Float64() - 0.5)
	at := ruler.Point{X: c.Centre.X + cs*d - sn*side, Y: c.Centre.Y + sn*d + cs*side}
	s.Track = photo.Track{Trip: c.At(at, c.FocalPX/perM), Travel: r.Travel, Tilt: r.Tilt, Yaw: r.Yaw, Roll: r.Roll}
	if s.Backdrop.Behind == 0 {
		s.Backdrop.Behind = 0.12
	}
	s.Shadow = 0.004 * perM
	s.StatedLine = -r.TripOffset
	if r.Trip == "" {
		s.StatedLine = 0
	}
	r.lights(&s)
	if r.Decoy {
		s.Decoy = &photo.Decoy{Look: looks.WoodRule(), Pose: photo.Pose{
			Advance: 0.62 * along / perM, Lateral: 0.34 * across / perM, Depth: 0.02, Tilt: 0.06}}
	}
	return s
}

// lights puts the head beside the camera and sets its power so that the brightest part of the track
// is not blown out.
func (r *RunSpec) lights(s *photo.Scene) {
	f := s.Track.Basis()
	mid := s.Track.Trip.Sub(f.A.Mul(r.longest() * (0.5 - 0.5*r.Falloff)))
	away := 0.5 - 0.32*r.Falloff
	s.Flash.Head = mid.Add(f.B.Mul(0.5 * away)).Add(f.A.Mul(0.4 * away)).Sub(f.N.Mul(away))
	s.Flash.Fill = 0.08
	s.Flash.Pulse = photo.TailFor(r.T01)
	most := 0.0
	for i := range 11 {
		p := s.Track.Trip.Sub(f.A.Mul(r.longest() * (float64(i)/8 - 0.2)))
		most = max(most, s.Flash.Irradiance(p, f.N, s.Track.Trip))
	}
	s.Flash.Power = 0.95 / most
}

// scene returns the scene of one shot.
func (r *RunSpec) scene(base photo.Scene, sh *shot, rnd *rand.Rand, number int) photo.Scene {
	s := base
	s.Shot = uint64(number)
	if m := r.Move; m != nil && number > m.After && (m.Frames == 0 || number <= m.After+m.Frames) {
		s.Camera.FocalPX, s.Camera.Zoom = s.Camera.FocalPX*(1+m.Zoom), m.Zoom
		s.Camera.Centre = s.Camera.Centre.Add(ruler.Point{X: r.Move.DX, Y: r.Move.DY})
	}
	k := r.Loose
	s.Pose = photo.Pose{Advance: sh.advance(), Lateral: k * 1.5 * mm * rnd.NormFloat64(),
		Depth: k * 0.3 * mm * rnd.NormFloat64(),
		Tilt:  k * 0.008 * rnd.NormFloat64(), Yaw: k * 0.006 * rnd.NormFloat64(), Roll: k * 0.03 * rnd.NormFloat64()}
	s.Speed, s.Accel = sh.velocity(), sh.accel
	s.Flash.Power *= 1 + 0.03*rnd.NormFloat64()
	if r.Grip != "" {
		s.Grips = []photo.Grip{{Kind: r.Grip, At: r.Look.Front() + r.longest() + 4*mm}}
	}
	switch sh.odd {
	case "no-ruler":
		s.NoRuler = true
	case "weak": // the head had not recycled: 1.3 stops less
		s.Flash.Power *= 0.4
	case "one-flash":
		s.Twin = 0
	case "dark":
		s.Unfired = true
		s.Ambient = max(s.Ambient, 0.004)
	case "blurred":
		s.Softness = 3 * r.Look.Graduation() * base.Camera.FocalPX / base.Track.Trip.Z
	case "few-marks":
		s.Grips = append(s.Grips, photo.Grip{Kind: "sleeve", At: r.Look.Front() + 4*mm})
	}
	return s
}
