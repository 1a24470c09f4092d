package reading

// The numbers by which a row is believed to be a ruler's and read. Where nothing else is named, a number
// was chosen by hand on drawn rulers and photographs, and is held by scripts/readstudy and
// scripts/rulerstudy as a whole.

// What is believed to be a ruler.
const (
	fewestMarks  = 10   // lines; fewer prove no ruler
	longestShort = 24.0 // pitches, of the shortest lines: 5.4 mm are 21 of 1/100 inch; those of squared paper run on
	evenRow      = 0.05 // pitches, root mean square off a scale, of a row that is spoken of as too short a ruler

	// Over some 400 drawn patterns without a ruler the lengths never gave more than 6 nats, over readable
	// rulers hardly less than 20.
	sureEnough       = 20.0  // nats, of sureness
	evenAtMost       = 11.0  // nats, of it that evenness can give: fences, keys, bricks and teeth are as even
	chanceUnevenness = 0.12  // pitches, median deviation from a scale of a row followed by chance
	leastUnevenness  = 0.005 // pitches, likewise of the evenest rulers as they are seen
	lostLines        = 0.03  // share of a printed row's inside that scratches and glare take
	missedLines      = 0.2   // share that a row followed by chance misses

	// Of rulers whose divisions halve, over drawn ones never less than 1.9 nats a line in long rows, where
	// lines of text and the like that happen to alternate gave 1.2 at most.
	fewLines  = 20  // from which on each further line must add to the evidence
	everyLine = 1.5 // nats that it must add
)

// A row like other frames' ruler.
const (
	likePitch     = 0.05 // relative, between pitches that are alike
	likeAxis      = 0.05 // rad, between axes that are
	finestPitch   = 3.0  // px, of the pitches that anything else may have
	coarsestPitch = 40.0 // px, likewise
)

// Which row is read.
const (
	manyNats  = 40.0 // nats of evidence that let a row's lines count twice
	preferred = 3.0  // times the score: of the stated graduation, and millimetres before inches

	sameAxis = 0.03 // rad, between parts of a ruler that something hides between them
	parallel = 0.05 // rad, between scales of one ruler
	widest   = 60.0 // graduations; rulers are hardly wider: common practice, no source

	ratioSD    = 0.015 // of the logarithm of two pitches' ratio: the ruler's far edge is further away
	ratioCount = 20.0  // nats that a second scale may count for: it may be something else
)

// Codes.
const (
	phaseSure   = 4.0  // nats by which one place of the longest lines must be better than another
	nearEnd     = 1e-3 // m, from its stated reading that an end or a band may lie: a strip is not glued more truly
	notPeriodic = 1e9  // graduations: longer than any ruler, of a reading that is known without its period
)

// Ends and numbers.
const (
	faintEnd    = 0.4  // of the marks' contrast, the least of a band: those that are less plain are doubted
	widestBand  = 12.0 // graduations, of a bold band at the most; common practice, no source
	fartherLess = 0.05 // a graduation beyond the marks, by which edges count for less where a front is stated
	frontSD     = 0.4  // graduations, of a front's place about its stated reading
	leastLikely = 0.02 // of an edge anywhere else, against one there

	// Of an end's contrast, that an edge nearer the marks has at the least, of which it is open whether the
	// ruler ends there: the further one may then be what its shadow ends at.
	blocks = 0.5

	halfLine = 0.5  // graduations between what the front end says and the lines, from which on they disagree
	level    = 0.01 // cosine between an upright and the axis, below which readings rise downward, not to the right
	pastEnd  = 0.8  // graduations past the ruler's end, from which on a line is none of its own
)

// Readings.
const (
	oddLines      = -3.0 // nats: so rare are shortest lines of 0.9 or 8.4 mm, that another division is named as well
	ownPlace      = 0.15 // of a pitch: a line printed so far off the scale is still that line
	plainlyStated = 3e-4 // relative; stated graduations further off the usual ones are spoken of
	sharedOff     = 0.03 // px, of all lines together, that more of them do not better
	unseenBody    = 8.0  // pitches past the marks, of an outline whose far edge was not found
	fewestWidths  = 3    // frames that show the ruler's width; fewer do not tell which is right
	widthOff      = 0.04 // relative, from the others' width, where something else was taken for an edge
)

// Standard uncertainties.
const (
	// px, with which marks are placed on average whatever their number: pixels' own sampling, compression
	// and the lens's distortion along the row. Set by rendered frames with up to half a percent of barrel
	// distortion, as the next is.
	placing  = 0.05
	crowding = 0.4  // px squared, over the pitch: of marks that lie so close that they run into each other
	slope    = 1e-6 // relative step of a derivative that is taken numerically

	usualAxis  = 11.0 // mm from the marks to a long axis whose edges were not found; common practice, no source
	axisDoubt  = 0.3  // px, of the long axis between two edges that were found
	axisDoubtW = 0.01 // and of the ruler's width: bevels and shadows

	// A flash rises fast and fades slowly, so the mean of its light lies after the middle by up to
	// 0.31 of the time constant of the fading (1 - ln 2, for an exponential), which is about its
	// standard deviation.
	motionDoubt = 0.25
	motionGuess = 0.12  // the same against all blur, where the lens's is not known
	motionNoise = 2.0   // standard uncertainties of the blur that count as none
	tenNinety   = 2.563 // 10 to 90 % of a Gaussian's distribution in standard deviations

	// pitches from 10 % to 90 % of an edge, from which on it is a shadow's: blur so wide would leave a fifth of
	// the contrast of lines as wide as the gaps between them
	softest  = 0.8
	sameEdge = 0.3 // pitches, nearer than which two edges are one that was found twice
)
