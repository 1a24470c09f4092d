package animals

import (
	"math"
	"math/rand/v2"
)

// Shoot draws frames of animals that leave an exit to the right as the plan's model has it: each at
// a speed, a heading and a lag of its own. Lengths in metres, times in seconds, angles in radians.
type Shoot struct {
	Set         Scene // what all frames have in common
	Kind        Kind
	Scale       float64    // px per metre
	Trip        [2]float64 // px: the trip point, at the middle of the opening
	Length      float64
	Speed       float64 // at the trip point; normal, cut off at zero
	SpeedSD     float64
	Elevation   float64
	ElevationSD float64
	Lag, Spread float64
	Exit        float64 // the opening's height
	Fall        float64 // m/s^2, of a hop; 0 for a straight way
	Blur        float64 // px, standard deviation
	Tail        float64 // s, decay time of the flash
	Seed        uint64
}

// Frame is the scene of frame i, and how far its nose is past the trip point along and above the
// middle of the opening.
func (s Shoot) Frame(i int) (scene Scene, along, up float64) {
	r := rand.New(rand.NewPCG(s.Seed, uint64(i)+1))
	v := 0.0
	for v <= 0 {
		v = s.Speed + s.SpeedSD*r.NormFloat64()
	}
	e := s.Elevation + s.ElevationSD*r.NormFloat64()
	tau := s.Lag + s.Spread*r.NormFloat64()
	vx, vy := v*math.Cos(e), v*math.Sin(e)-s.Fall*tau
	along, up = vx*tau, v*math.Sin(e)*tau-s.Fall*tau*tau/2+s.Exit*(r.Float64()-0.5)
	heading := math.Atan2(vy, vx)
	scene = s.Set
	scene.Seed, scene.Gain = s.Seed*100000+uint64(i)+1, 1+0.03*r.NormFloat64()
	scene.Animals = []Animal{{Kind: s.Kind, Length: s.Length * s.Scale,
		Nose:    [2]float64{s.Trip[0] + along*s.Scale, s.Trip[1] - up*s.Scale},
		Heading: heading, Way: heading, Defocus: s.Blur, Tail: math.Hypot(vx, vy) * s.Tail * s.Scale, Seed: r.Uint32()}}
	return scene, along, up
}

// Empty is the scene without an animal.
func (s Shoot) Empty() Scene {
	e := s.Set
	e.Seed, e.Gain = s.Seed*100000, 1
	return e
}
