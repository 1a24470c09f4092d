package fit

// Shot is one observation of the lag model in SI units (see Run).
type Shot struct {
	Advance  float64 // m, past the line the advances are counted from
	AdvanceU float64 // m, standard uncertainty of the reading alone
	Delay    float64 // s, delay added in the controller

	Drop      float64 // m, stated fall; > 0 for a drop, else 0
	DropU     float64 // m, one error shared by all shots that state this Drop
	DropShotU float64 // m, error of letting go, shot by shot

	Speed  float64 // m/s, measured speed of a push; 0 when not measured
	SpeedU float64 // m/s, shot by shot

	Each bool // the speed (or the fall it stands for) was measured in this very shot and is no setting

	Group string // shots at one unknown but repeatable speed (Drop == 0 and Speed == 0)

	Time    float64 // s since any one instant of the run, such as its first frame; used by Result.Checks only
	HasTime bool    // Time is known
	Setting string  // label of the exposure settings; shots of unlike labels are compared in Result.Checks
}

// Run is everything the lag model needs.
//
//	tau_i = L + d_i + e_i                     e_i of standard deviation Spread
//	s_i   = b + v_i tau_i + a tau_i^2/2 + reading error of standard deviation AdvanceU
//	drop:   v_i = sqrt(2 g Drop_i), a = g     push: v_i = Speed or the group's, a = 0
type Run struct {
	Shots       []Shot
	Gravity     float64  // m/s^2
	GravityU    float64  // m/s^2
	DropCommonU float64  // m, one error shared by every drop of the run
	TripU       *float64 // m, standard uncertainty of a known trip place; nil: place unknown
	SpeedRepeat float64  // relative shot-to-shot repeatability of a group's speed
	MaxDrop     float64  // m, highest drop the rig allows; 0: none stated. Bounds Result.Advice
	MaxDelay    float64  // s, longest delay the controller allows; 0: none stated
}
