package edge

// The numbers by which edges are placed and measured. Where no study is named, a number was chosen
// by hand; those of a ruler's edge are held by scripts/readstudy and scripts/rulerstudy as a whole
// (error of the front end over its u), those of an animal's outline by scripts/checkstudy.

// An edge of a ruler: its pieces.
const (
	pieceLength = 10.0  // px of edge in one piece, at the least
	leastLength = 3.0   // px likewise, where the edge is short
	usualPieces = 8     // of an edge that is long enough for them
	mostPieces  = 32    // of any: more tell no more, and take time
	fewPieces   = 4     // that an edge must have: a line through three is hardly told from chance
	longPiece   = 40.0  // px of edge looked at in one piece at the most: by far less a long edge is known well
	mostSamples = 240   // pixels in one piece, about
	leastSigma  = 0.45  // px, of blur: a pixel's own square has 0.29
	reachSigmas = 3     // of the blur, to which pixels are taken to either side, and as many px more
	farReach    = 40.0  // px beyond the fit over which the light is followed
	nearHalf    = 1.5   // standard deviations of the blur, and a pixel: what counts as next to an edge
	edgeFloor   = 0.003 // px: what is left of pixels' sampling, compression and the curve of tones

	leastVariance = 1e-8 // of light: that of rounding to code values in the dark
	sideShare     = 0.6  // of a profile's half width, from where on it counts as beside the edge
	fewestBeside  = 4    // pixels or places there, to either side

	pieceRounds = 8     // of a fit of one piece, or of all at once
	settled     = 0.001 // px, a step below which a fit need not be improved
	mostSlope   = 0.5   // of the light, over a piece's half width: more is another edge
	slopesAlike = 4.5   // standard uncertainties, between the slopes next to the edge and from afar
)

// An edge of a ruler: which of its pieces count.
const (
	lineRounds = 12 // of the robust line's fit

	// oddPiece is from which excess of a piece's sum of squares over that of its own fit, of three
	// unknowns, in variances of the noise, it is no part of an even edge: chance exceeds it once in a
	// thousand (chi squared).
	oddPiece    = 16.3
	leastRounds = 3   // of the fit of all at once, as the levels may be off at first
	slabThick   = 3.0 // px along the edge, of the slabs that pieces are cut into
	slabMost    = 3.5 // standard deviations of a slab's sum of squares

	// The light beyond the edge: bent is times the variance next to it, above which what lies there is
	// no even slope, such as the edge of a second flash; aboutEven times that of the evenest quarter,
	// as the others have print in them. Without the two an end of 295 frames came to lie further off
	// (scripts/limits).
	bent        = 3
	aboutEven   = 1.6
	aboutMedian = 2.5 // standard deviations from the median, within which values lie as most do
)

// The outline of an animal: its edges one by one.
const (
	edgePlaces   = 120  // of an outline that are measured, about
	edgePatch    = 14   // px of edge that are averaged at one place
	edgeBins     = 32   // of a profile, over its whole width
	mostCurve    = 0.6  // rad: what an edge may turn over the part looked at, else it is a corner
	outlineReach = 9    // points of the outline to either side that give direction and curvature
	fewestReach  = 4    // times as many points, that an outline must have
	doublesBack  = 1.2  // of the outline's own steps, over that reach, a chord that shows that it does not
	beside       = 4.0  // px along the edge, where it is asked how thin the body is, besides the middle
	itself       = 4.0  // px across it, nearer than which the outline is this edge
	stiff        = 1e-4 // squared light: noise that was not met, in the weights of the channels

	fewestEdges  = 12   // without which nothing is said
	enoughEdges  = 24   // with which those of thin parts are left out
	thinPart     = 2.0  // half widths of a profile, across which a part is thin: both its edges blur into it
	edgeContrast = 0.15 // of the animal's own difference, of a step worth measuring
	edgeRounds   = 8    // of a fit of one edge
	offCentre    = 0.7  // of a profile's half width, that its edge may lie off the middle
	windowRounds = 5    // in which profiles grow as wide as the edges need
	windowSigmas = 3.0  // of what blurs an edge, that a profile reaches to either side
	firstWidth   = 4    // px^2, of an edge, to start with
	widthsAlike  = 0.1  // of a width, to which two rounds must agree
	tensorRounds = 30   // of the robust fit of widths by direction
	leastError   = 0.05 // relative, of a width there: nearer, it weighs no more
)

// The outline of an animal: the blur of all its edges.
const (
	leastTail   = 0.1  // Gaussians: with a shorter decay the two together are a Gaussian, of skewness 2e-3
	leastGauss  = 0.3  // px, the smallest Gaussian: that of a pixel's own square
	widestEdge  = 40   // px, standard deviation
	tailReach   = 1.3  // of its standard deviation, by which an exponential reaches further than that says
	leastMisfit = 1e-4 // of an edge's variance: what any differs from the model
	likelyTail  = 0.3  // of the width across, a decay length to start with
	shortTail   = 1.5  // Gaussians, another
	usualMisfit = 20   // times the least, to start with
	stepShare   = 0.3  // of what there is of it, by which Gaussian or decay change at once
	placeShare  = 0.25 // of a profile's half width, by which its edge moves at once
	blurRounds  = 20   // of a search, at most
	roughRounds = 8    // of one that only tells how wide profiles must be
	scaleRounds = 3    // after which the usual misfit is taken
	blurGain    = 1e-4 // of the mean logarithm, below which a search ends where it
	blurStep    = 5e-3 // of the Gaussian moves by less
	stiffness   = 1.02 // of the equations' diagonal
	leastWeight = 1e-6 // added to it, so that they can be solved

	// What motion blur must gain, of the mean logarithm, not to be taken for none: along the travel,
	// and in other directions, which are less likely beforehand. They stand between what drawn animals
	// with and without one give (scripts/checkstudy).
	alongGain = 0.02
	otherGain = 0.035
)
