package read

// The numbers by which the frames of a run are read together. Where no study is named, a number was
// chosen by hand and is held by scripts/readstudy and the tests of drawn runs as a whole.
const (
	// scouts is how many frames are searched everywhere before the others are searched only for
	// what those show.
	scouts = 4
	// mostScouts is how many are searched everywhere at most, while fewer than fewestLocated show a ruler.
	mostScouts    = 16
	fewestLocated = 2
	// finest is the least pitch, px, looked for once the first scouts showed no ruler: a picture of 24
	// megapixels takes four times as long where finer ones may be.
	finest = 8.0
	// fewFrames is up to how many frames a run is searched everywhere: its scouts tell too little of
	// what lies still.
	fewFrames = 12
	// pitchesAlike is by what part of the median the pitches of readings may differ: a ruler comes
	// nearer or goes away by less.
	pitchesAlike = 0.2
	// sideways is how far beside the track the graduations may lie, in graduations, beyond what the
	// scouts show.
	sideways = 12

	// nearMark is how far beside a line drawn by hand graduations may lie, as a share of its length,
	// and at least nearMarkPX: a person draws along the ruler, not always over the marks themselves.
	nearMark   = 0.35
	nearMarkPX = 60 // px

	// beforeTrip is by how many standard uncertainties a front end must lie before a stated trip line
	// to be told: one in 16,000 does by chance.
	beforeTrip = 4
	// worstCorrection is the largest standard uncertainty, m, with which a reading is still corrected:
	// half of the finest usual graduation.
	worstCorrection = 0.5e-3
	// frontOff is by how much, m, a front end may lie from its stated place before it is told: what a
	// worn or a cut end is off by.
	frontOff = 0.3e-3
	// slateOff is by what part a slate and shots.csv may differ: rounding to six digits.
	slateOff = 1e-6

	// weakStops is how far the ruler may be darker than in most frames, in stops, before the flash
	// counts as weak. Heads repeat to a tenth of a stop or two; one that had not recycled falls by
	// more (common practice, no source).
	weakStops = 0.7
)
