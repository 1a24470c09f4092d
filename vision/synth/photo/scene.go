package photo

import "leadmark/vision/synth/looks"

// Scene is one photograph. The zero value of most fields leaves that thing out.
type Scene struct {
	Camera   Camera
	Track    Track
	Pose     Pose
	Look     looks.Look
	Flash    Flash
	Backdrop Backdrop
	Block    *Block
	Decoy    *Decoy
	Grips    []Grip
	Sensor   Sensor

	Speed    float64 // m/s along the travel, at the flash
	Twin     float64 // s from this flash to a second one in the same frame; see twin.go
	TwinGain float64 // light of the second flash over that of the first; 0 for equal ones
	Accel    float64 // m/s^2 along the travel between the two
	Exposure float64 // s, shutter time, for the ghost
	Ambient  float64 // light from other lamps during the shutter time, as a part of the flash's

	Softness float64 // px, standard deviation of the lens blur and defocus (Gaussian)
	Disk     float64 // px, radius of a defocus disk on top
	Shadow   float64 // px, how far the ruler's shadow falls from it; 0 for none
	Penumbra float64 // px, softness of its edge; 0 for a third of Shadow

	NoRuler bool // nothing but the set
	Unfired bool // the flash did not fire: ambient light alone

	StatedLine float64 // m, advance of the stated trip line from the true trip point, for Truth.AtLineMM
	Seed       uint64  // of the backdrop's and the ruler's texture
	Shot       uint64  // of the noise; differs from frame to frame of a run
}

// Decoy is a second ruler that lies still.
type Decoy struct {
	Look looks.Look
	Pose Pose // on the scene's track
}

// Grip is what holds the ruler and hides a part of it.
type Grip struct {
	Kind string  // "fingers", "clamp" or "sleeve"
	At   float64 // m, reading at which it begins
}
