package scene

// The numbers by which scenes are compared, set by scripts/turnstudy where it is named; the others
// were chosen by hand and are held by that study as a whole.

// What is kept of a scene.
const (
	backdropSide = 256 // places, the longest side of the coarse picture: 64 kB a frame
	shortestSide = 8   // places without which two scenes cannot be compared

	hiddenAlong  = 20 // graduations beyond a row's ends that the ruler, its shadow or a hand may hide
	hiddenAcross = 12 // graduations beside its body, likewise
	unseenBody   = 38 // graduations across which a body goes where its edges were not found
)

// The fit of the move.
const (
	fewestSpots = 100 // places that must be compared
	fewOf       = 5   // places of which one is compared at first, to save time
	mostPasses  = 30  // of the rough fit
	nearEnough  = 0.1 // places, a step that ends it
	finePasses  = 8   // from there: soft scenes creep on for many more, by less than they know
	smallStep   = 0.1 // standard uncertainties, a step that ends the fit
	shortStep   = 1.0 // standard uncertainties, a step after which the equations hold on
	// noise, tones, is the least scatter that is taken for granted, a tone's rounding with it. What is
	// left of neighbouring places shares light and blur, so that one of so many shared counts as
	// independent: set by the errors over u of scripts/turnstudy.
	noise  = 0.5
	shared = 2
	huber  = 1.5 // standard deviations (Huber 1964: 95 % efficient in Gaussian errors at 1.345)
	rim    = 3   // places at the border that are left out: the smoothing reaches two, Keys' cubic one
)

// Whether all parts moved alike.
const (
	unmoved   = 0.25 // px of a move up to which nobody asks: what a reading is good to
	doubtful  = 2.0  // standard uncertainties, likewise, of all that is fitted
	tellsPart = 0.3  // of the move, to which a quarter of the picture must know its own to be asked
)

// priors are how far, as a standard deviation, a knock turns a picture, makes it grow or lean, in
// places of the coarse picture at its rim: 0.6 degrees of roll, a thousandth, and what half a degree
// aside does. They bind where the texture tells next to nothing.
func priors() [params]float64 { return [params]float64{2: 1.5, 3: 0.3, 4: 0.3, 5: 0.3} }
