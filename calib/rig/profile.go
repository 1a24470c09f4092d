package rig

import "leadmark/calib/runfile"

// Profile is a rig as its rig.toml describes it. Lengths in metres, times in seconds. What the
// file leaves out is zero or nil: whoever needs it says so.
type Profile struct {
	Name, Dir string
	Camera    Camera
	Lens      Lens
	Trigger   Trigger
	Flash     []Head
	Limits    Limits
	Digest    string // SHA-256 of rig.toml, hex
}

// Camera is the body and the light it stands in.
type Camera struct {
	Sensor       [2]float64 // m, long way of the raster first
	Pixels       [2]int
	Shutter      string  // how the shutter worked, one of shutters; "" where not stated
	SyncOn       string  // which curtain fires the flash, one of curtains; "" where not stated
	Sync         float64 // s, shortest shutter time that shows the whole frame to the flash
	ISO          int
	AmbientEV100 *float64 // exposure value at ISO 100 of the light at the set, nil where unknown
}

// ShutterOpen says that the shutter was held open and the flash alone made the picture: the
// camera's own lag and aperture are then not in the lag.
const ShutterOpen = "open"

// shutters lists the ways a shutter can work, as rig.toml states them: they have lags of their own.
func shutters() []string {
	return []string{"mechanical", "electronic first curtain", "electronic", ShutterOpen}
}

// curtains lists which curtain of the shutter can fire the flash, as rig.toml states it.
func curtains() []string { return []string{"first curtain", "second curtain"} }

// Lens is the lens as set.
type Lens struct {
	Focal   float64    // m
	Closest float64    // m, closest focus, from the sensor plane
	FNumber [2]float64 // widest and narrowest aperture, f-numbers

	MaxMagnification   float64 // picture on the sensor over subject
	PupilMagnification float64 // exit pupil over entrance pupil
}

// Trigger is the beam and its controller.
type Trigger struct {
	Beam  float64 // m, width of the beam
	Delay float64 // s, added delay now set
	Class string  // of the beam, one of beamClasses
	Burst float64 // Hz, flashes a second where one trip fires several
}

// beamClasses lists what a beam can be, as rig.toml states it: an LED, or a laser's class of IEC
// 60825-1.
func beamClasses() []string { return []string{"led", "1", "1M", "2", "2M", "3R", "3B", "4"} }

// Head is one flash head.
type Head struct {
	Name        string
	Lights      Lights
	GuideNumber float64    // m, at ISO 100 and full power
	Range       [2]float64 // highest and lowest power, shares of full power
	Power       float64    // share of full power now set
	Distance    float64    // m, to the subject
	Loss        float64    // stops, of softbox, diffuser or gel
	T01, T05    []Duration // flash durations as ISO 2827 defines them, highest power first; either may be empty
	Energy      float64    // J, electrical, of a flash at full power
	Recycle     float64    // s, after a flash at full power
}

// Lights is what a head lights.
type Lights string

// What a head may light.
const (
	Subject  Lights = "subject"
	Rim      Lights = "rim"
	Backdrop Lights = "backdrop"
)

// Duration is how long a head's flash lasts at one power.
type Duration struct {
	Power   float64 // share of full power
	Seconds float64
}

// Limits bound what the program proposes to shoot next; zero where not stated.
type Limits struct {
	MaxDrop         float64 // m
	MaxDelay        float64 // s
	RecalibrateDays float64 // days after which a calibration counts as old
	DayEnergy       float64 // J, most flash energy in one day
}

// OfRun are the limits as a run is told them.
func (l Limits) OfRun() runfile.Limits {
	return runfile.Limits{MaxDrop: l.MaxDrop, MaxDelay: l.MaxDelay}
}
