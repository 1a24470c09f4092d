package runs

import (
	"math"
	"math/rand/v2"

	"leadmark/vision/synth/looks"
	"leadmark/vision/synth/photo"
)

// Gravity is the standard acceleration of free fall, m/s^2 (3rd CGPM, 1901).
const Gravity = 9.80665

// RunSpec is a whole calibration run. SI units; the zero value of most fields leaves that thing out.
type RunSpec struct {
	Name   string
	Rig    string
	Method string // "drop", "push", "sweep" (pushes at one unknown speed, delays varied), or
	// "mixed" (some pushes measured, some not, delays varied)
	Drops  []float64 // m, heights of a drop
	Speeds []float64 // m/s, of a push; a sweep uses the first
	Delays []float64 // s, added delays; none means 0
	Shots  int       // per height or speed and delay

	Lag, Spread float64 // s, the truth to be found
	TripOffset  float64 // m, true trip point minus stated line, along the travel
	Trip        string  // how the trip place is stated: "" not at all, "line" or "still"

	UDrop, UDropShot, UDropCommon float64 // m, standard deviations of the heights' errors
	USpeed, SpeedRepeat           float64 // m/s; relative

	Travel          string
	Tilt, Yaw, Roll float64 // rad, of the track (see Track)
	Loose           float64 // how loosely the ruler is guided; 1 as dropped by hand, 0 on rails
	Look            looks.Look
	Backdrop        photo.Backdrop
	Block           *photo.Block
	Decoy           bool
	Grip            string // what holds the ruler in view: "", "fingers" or "clamp"
	// extra frames gone wrong: no-ruler, dark, blurred, front-out, few-marks, false-trip, late,
	// cut, one-flash, weak
	Odd []string

	Move *Move // the camera is knocked in the middle of the run

	Width, Height int     // px, as displayed
	Orientation   int     // of the files
	T01           float64 // s, duration of the flash above a tenth of its peak
	Twin          float64 // s between two flashes of one frame
	TwinGain      float64 // light of the second over that of the first; 0 for equal ones
	Unstated      bool    // shots.csv states neither speed nor height: the twin flash is to tell
	Softness      float64 // px
	Falloff       float64 // 0 even light to 1 a head close to one end of the track
	Ambient       float64
	FullWell      float64
	K1            float64
	Quality       int
	Seed          int64
}

// Move is a knock to the camera: from frame number After+1 on the picture lies elsewhere.
type Move struct {
	After  int
	DX, DY float64 // px
	Frames int     // how many it holds for; 0 to the end
	Zoom   float64 // relative; the picture grows by as much about its middle
}

// shot is one planned and one true shot.
type shot struct {
	odd                string
	drop, delay, speed float64 // as stated; speed is 0 where it is not measured
	group              string
	trueSpeed, accel   float64 // at the trip point
	tau                float64 // s from the trip to the effective instant of the flash
}

// advance returns s = v tau + a tau^2 / 2 past the true trip point.
func (s *shot) advance() float64 { return s.trueSpeed*s.tau + s.accel*s.tau*s.tau/2 }

// reach returns how long after the trip the front is at an advance: the positive root of v t + a
// t^2 / 2 = s.
func (s *shot) reach(advance float64) float64 {
	return 2 * advance / (s.trueSpeed + math.Sqrt(s.trueSpeed*s.trueSpeed+2*s.accel*advance))
}

// velocity returns the speed at the flash.
func (s *shot) velocity() float64 { return s.trueSpeed + s.accel*s.tau }

// shots plans the run and draws what truly happens.
func (r *RunSpec) shots(rnd *rand.Rand) []shot {
	var out []shot
	common := r.UDropCommon * rnd.NormFloat64()
	delays := r.Delays
	if len(delays) == 0 {
		delays = []float64{0}
	}
	for i, base := range r.bases() {
		held := common + r.UDrop*rnd.NormFloat64()
		for _, d := range delays {
			for range r.Shots {
				out = append(out, r.shot(rnd, i, base, held, d))
			}
		}
	}
	good := append([]shot(nil), out...)
	for _, kind := range r.Odd {
		s := good[rnd.IntN(len(good))]
		s.odd = kind
		r.spoil(&s)
		at := rnd.IntN(len(out) + 1)
		out = append(out[:at], append([]shot{s}, out[at:]...)...)
	}
	return out
}

// bases returns the heights of a drop or the speeds of a push.
func (r *RunSpec) bases() []float64 {
	switch r.Method {
	case "drop":
		return r.Drops
	case "sweep":
		return r.Speeds[:1]
	}
	return r.Speeds
}

// shot draws one shot; i is the number of its height or speed.
func (r *RunSpec) shot(rnd *rand.Rand, i int, base, held, delay float64) shot {
	s := shot{delay: delay, tau: r.Lag + delay + r.Spread*rnd.NormFloat64()}
	if r.Method == "drop" {
		s.drop, s.accel = base, Gravity
		s.trueSpeed = math.Sqrt(2 * Gravity * (base + held + r.UDropShot*rnd.NormFloat64()))
		return s
	}
	s.trueSpeed = base * (1 + r.SpeedRepeat*rnd.NormFloat64())
	if r.Method == "sweep" || r.Method == "mixed" && i > 0 {
		s.group = string(rune('a' + i))
		return s
	}
	s.speed = s.trueSpeed + r.USpeed*rnd.NormFloat64()
	return s
}

// spoil makes a shot go wrong in time or place.
func (r *RunSpec) spoil(s *shot) {
	switch s.odd {
	case "false-trip": // something else broke the beam: the front had 6 mm to go when the flash fired
		s.tau = -0.006 / s.trueSpeed
	case "late": // the controller hung for a moment
		s.tau += 0.0035
	case "front-out": // the controller took its time
		s.tau = s.reach(1.35 * r.longest())
	}
}

// longest returns the greatest planned advance, with room for the spread.
func (r *RunSpec) longest() float64 {
	far := 0.0
	for _, b := range r.bases() {
		s := shot{trueSpeed: b, tau: r.Lag + 3*r.Spread + r.Twin}
		if r.Method == "drop" {
			s.trueSpeed, s.accel = math.Sqrt(2*Gravity*b), Gravity
		}
		for _, d := range r.Delays {
			s.tau = max(s.tau, r.Lag+3*r.Spread+r.Twin+d)
		}
		far = max(far, s.advance())
	}
	return far
}
