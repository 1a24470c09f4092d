package marks

// The numbers by which rows of marks are found, followed and measured, and the ruler's edges about them.
// Where nothing else is named, a number was chosen by hand on drawn rulers and photographs, and is held
// by scripts/readstudy and scripts/rulerstudy as a whole.

// What is looked for, and handed on.
const (
	mostTries   = 12   // groups followed in one picture: bounds the time
	mostRows    = 4    // rows handed on, likewise
	promising   = 3    // groups of a level that are tried, whether it shows a ruler
	surelyARow  = 25   // marks that show one
	alongARow   = 0.7  // sine, between a row and a group within it that is not another: brushed steel has rows across
	ownPitch    = 0.07 // relative, between pitches or their multiples that are not the same
	mostPasses  = 9    // along a group's axis, each with a better axis or pitch: bounds the time
	turnsAgain  = 0.5  // pitches by which the row leaves a group's axis, from which on that is turned
	longerRow   = 1.15 // times as long as its group, a row gives a better axis and pitch
	stridePart  = 0.9  // of the marks that lie twice or three times the pitch apart, where that is the pitch
	strideMarks = 4    // marks of which more are wanted to tell that
	steadyGap   = 3    // graduations from mark to mark, at the most, in the part of a row that gives the pitch
	steadyOff   = 0.35 // relative, by which a pitch may differ there

	// A row that has fewer graduations is not handed on at all: reading wants more.
	fewestGraduations = 8
	fewestTracked     = 3   // marks by which a row can be followed on: two always lie in line
	leastContrast     = 1.0 // of the filtered marks, grey levels: the blocks of JPEG make such rows
)

// A row of which it is worth knowing where its ruler ends.
const (
	fewestRead    = 10  // lines: as many as reading wants
	leastEvidence = 2.0 // nats, of the lengths: reading wants 20, and evenness and other frames can add 18
)

// Samples of the picture along a row.
const (
	searchSamples = 3.5  // that a pitch keeps while axis and pitch are still sought: less than two show none
	placeSamples  = 7    // likewise in the strip in which the marks are placed and measured
	fineMarks     = 6    // samples a pitch below which marks themselves look like noise from sample to sample
	reachPitches  = 16   // of the fine strip, to either side of the axis
	followPitches = 100  // past a group's end that a row may go on at the least
	followPart    = 0.7  // of the group's length, likewise
	insideBy      = 1e-3 // px from the border of the picture, within which samples are taken one by one
	finerBy       = 0.01 // levels, by which a step may exceed a level's and be taken for it
)

// The band in which all marks can be seen.
const (
	windowPitches = 12   // length of the windows in which a pitch's amplitude is measured
	besideRate    = 0.75 // of the pitch's rate: between that and every second mark's, a window's width from both
	fewestSamples = 4    // of such a window: fewer show no wave
	coherentRows  = 2    // to either side, that are averaged along the marks
	briefBand     = 1.2  // pitches; marks of most rulers are longer
	lowerBand     = 0.25 // of the top: how far a longer band may lie below
	bandGap       = 0.3  // pitches that a band goes on over
	besideRim     = 1.5  // pitches from a brief band, where a longer one is looked for

	// Of the top, what bounds the band. Past the end of the shortest marks, where every second one ends, as
	// on inches and half millimetres, the level falls to a half; where four in five end, to a fifth.
	bandShare = 0.7

	turnWindows  = 5    // that tell how the marks' lean changes along the row
	driftWindows = 4    // that tell how the row lies aslant the axis
	unknownLean  = 0.01 // standard uncertainty of a lean where too few windows tell: that of a bad picture
	ownWindows   = 0.67 // of the windows that count as independent: they overlap by a half
	leastFree    = 2.5  // of those, with which their scatter tells an uncertainty
	leanUnknowns = 1.5  // of a line through them, in independent ones
)

// The profile along a row.
const (
	trimParts   = 8    // of a band's rows, of which one is left out at either rim
	smoothing   = 0.13 // pitches, standard deviation of the Gaussian that a profile is smoothed with
	leastSmooth = 0.7  // samples, likewise
	kernelReach = 3    // standard deviations of a Gaussian that are counted
	kernelCore  = 1.2  // likewise, that must be in the picture
)

// Marks, followed one by one.
const (
	combTeeth    = 5     // to either side of a seed's middle
	seedLeast    = 0.92  // of the group's pitch, that a seed's is tried from
	seedMost     = 1.085 // likewise, to which
	seedStep     = 0.01  // likewise, from pitch to pitch: half a pitch over some fifty marks
	seedPhase    = 0.1   // pitches from place to place
	catch        = 0.3   // of a pitch: how far from its place a mark is looked for
	maxMissing   = 10    // marks in a row that may be hidden
	weakestMark  = 0.3   // of the median height
	clearOfNoise = 2.5   // standard deviations of the filtered profile's noise
	heightMarks  = 15    // last marks of an end, that tell how high the next will be
	lineMarks    = 9     // likewise, where it will be
	bendMarks    = 24    // likewise, how the pitch changes
	fewestBend   = 16    // of those that tell it
	stray        = 0.15  // of a pitch, by which graduations stray from where the others put them
	strayGap     = 3     // graduations from mark to mark, beyond which few marks prove nothing
	fewestStray  = 4     // marks beyond such a gap that do
	pitchReach   = 3     // marks to either side, over which a pitch is measured
)

// A row that was followed on past the ruler's end.
const (
	leastUneven = 0.03 // pitches, standard deviation of a ruler's lines from their scale
	strayShare  = 0.05 // of a ruler's lines that are placed anywhere in their pitch: print runs into them
	lostShare   = 0.05 // of a ruler's lines that are not seen
	chanceShare = 0.25 // of places where chance shows no line
)

// Marks or the gaps between them.
const (
	plainSkew     = 0.8  // how skew a profile is where marks are plainly narrower than gaps: blurred, both look alike
	plainInk      = 0.8  // how skew the light past the shortest marks is, at the least, where it tells ink from ground
	doubtfulOrder = 10.0 // nats, of the lengths' order, that such ink outweighs
	plainlyGaps   = 5.0  // nats by which lengths must be likelier in the order of gaps than in that of marks
	inkAbout      = 2.5  // pitches to either side, over which the level is taken that ink stands out from
	inkParts      = 6    // of the band's width, of which one lies between it and that ink
	clipAt        = 4    // median deviations: a bold band, or the scene past the end, would count for more than all ink
)

// Lengths of marks.
const (
	lengthReach    = 0.8  // of the strip, to which a mark is followed
	lengthRows     = 0.2  // pitches to either side, of rows averaged
	fadesTo        = 0.4  // of a mark's contrast, below which it has ended
	fadesOver      = 0.35 // pitches, over which it must stay so
	longestPitches = 6    // of a length that counts for the ruler's side
	shortAlike     = 0.15 // of the shortest marks' length, by which theirs differ
	besideMark     = 0.6  // pitches beside a mark that must be in the picture for its length to be seen
)

// Coarse graduations.
const (
	usualLength = 2.75 // pitches of rulers that are divided as finely as most are; as scale's size of lines
	finestUnit  = 8    // px, to which a pitch is divided at the least
)

// Lines and steps.
const (
	leastStep     = 3.0  // grey levels of an edge: fainter ones are shading and compression
	leastAgree    = 0.6  // share of the rows, bands or blocks that must show it
	fewestOnLine  = 4    // points that tell a line from chance
	strayPoints   = 3    // robust standard deviations of points from a line, beyond which they are left out
	steepestShare = 0.2  // of the steepest slope, from which on a place counts for an edge's
	atBest        = 0.03 // samples to which a line is placed at the best
)

// The ruler's long edges.
const (
	bodyPitches  = 60   // how far the ruler's far edge is looked for
	nearParts    = 6    // of that, of which one is looked over beside the marks
	bodySamples  = 5    // a pitch, of the strip in which they are looked for
	bodyFinest   = 0.5  // px from sample to sample there, at the least
	blockPitches = 8    // length of ruler averaged for one place of its edges
	blockAlike   = 3    // parts of a step, of which a block must show one
	nearReach    = 8    // pitches past the shortest marks, to which the near edge is looked for
	nearerMore   = 0.2  // a pitch, by which edges further from the marks count for less: they are the shadow's
	farReach     = 2.2  // pitches past the shortest marks, from which on the far edge is looked for
	farMargin    = 3    // pitches of the strip beyond it
	fartherLess  = 0.02 // a pitch, by which edges further away count for less

	unevenLight = 0.5 // relative change of tone that light falling off makes across the ruler
	sameTone    = 0.4 // of an edge's step, that the ruler's tone may differ before it
	otherTone   = 0.6 // of the step, that it must differ beyond

	sideReach = 4    // pitches to either side of a long edge, in which it is placed
	sidePlace = 1.5  // pitches from where it was found, to which its steepest place is looked for
	sideOff   = 0.05 // pitches, by which places on it differ
	sideBlur  = 0.1  // pitches, first guess at its blur
	sideCut   = 0.15 // pitches, by which a part of it may lie off
	sideShare = 0.5  // of its pieces, of which more must lie on its line

	unseenBody = 12 // pitches past the marks that a ruler reaches whose far edge is not found
)

// Edges across the ruler.
const (
	stepRows     = 96   // lines side by side that are looked at, at the most: bounds the time
	bandRows     = 4    // of those that go into a band
	edgeGapParts = 0.15 // of a pitch left out about an edge, so that blur does not count

	// Edges are looked for at two widths: a whole pitch, over which the marks average out, and half of one
	// on the part of the ruler clear of marks, which tells apart edges that lie close, such as the ruler's
	// own and its shadow's.
	wideReach   = 1.0
	narrowReach = 0.5

	clearPart   = 3   // pitches of the ruler that must be clear of marks for the narrow one
	peakReach   = 0.8 // of the reach, within which an edge is the highest
	placeReach  = 0.6 // of the reach, within which it is placed row by row
	slopeRoom   = 3   // samples beyond that, which the slope takes
	sameStep    = 3   // parts of a pitch: steps of one sense that lie nearer than one are one
	worthMedian = 0.1 // of leastStep, that the bands' mean must reach for their median to be looked at: saves time
	bandAlike   = 0.4 // of the median step, that a band must show to agree

	// The face ends where bands of rows, over so many pitches to either side, mostly keep a tone of their own
	// before, and leastAgree of those have another past it and leave theirs on one straight line. Bands whose
	// backdrop has their tone leave it late.
	facePitches  = 3
	steadyBands  = 0.7 // of the bands, that keep their tone before
	plainlyOther = 4   // times the usual difference of a band's tone from stretch to stretch, another differs
	sameColumn   = 1.0 // columns of the strip from the line, to which one counts as on it

	lineOff    = 0.08 // pitches, by which places of an edge may lie off its line
	widthShare = 0.1  // of the steepest slope, from which on a slope counts for an edge's width
	leastWidth = 0.05 // samples squared, of the variance of an edge's slope
	cornerPart = 0.06 // of the ruler's width that is left out at either long edge: corners are rounded

	mostPlaced  = 5    // edges that are placed as well as can be, unless more are as plain
	faintPlaced = 0.15 // of the plainest, from which on more are
	plainNear   = 0.05 // a pitch past the marks, by which an edge counts for less there

	// Where an edge can be the ruler's end, or a bold band's: pitches before the last mark, pitches past it (a
	// little more than ruler.EndReach), times the marks' contrast, and cosine between the row and the front's way.
	matterBefore = 4
	matterPast   = 32
	matterBold   = 2
	matterWay    = 0.5

	longer      = 1.2  // by how much the ruler's whole width must exceed a part of it to be worth another fit
	unsharpened = 0.25 // px that a step may be off whose edge cannot be followed on the picture's own pixels
	leastShared = 0.4  // of an edge's pieces that must lie on its line
	softer      = 3    // times its width as it was found, that an edge may have: noise makes soft ones look sharp
	leastAcross = 0.5  // sine between the axis and an edge across it: at less it is another
	rimPart     = 0.02 // of an edge that is left out at either long edge
)

// Corners: the fields that are compared, and what they tell.
const (
	fieldLong    = 4.0  // pitches along the line between two fields
	fieldWide    = 2.0  // pitches from it
	leastWide    = 4.0  // px, of graduations that are finer than that
	fieldGap     = 0.25 // pitches between a field and the line
	leastGap     = 1.5  // px
	fieldSamples = 4.0  // a pitch

	besideFields = 3 // fields to either side, that tell what the backdrop does
	plainlyMore  = 2 // times that, from which on a step is more

	faintest  = 0.2   // the least contrast of an end, of that of the marks: fainter ones are shading's
	alike     = 0.4   // of the step that is looked for: two fields that differ less are the same
	ownStep   = 0.5   // of the step between two fields that their edge must make itself
	darkLight = 0.001 // of white, what noise leaves in the dark
)

// Cells of a code.
const (
	// Cells that are sampled beyond the first and the last mark: where a picture ends, marks are lost before
	// cells are.
	cellsBeyond = 4
	cellPart    = 0.45 // of a cell's length across, to either side of its middle
	cellAlong   = 3    // samples along the ruler
	cellAcross  = 7    // samples across
	cellStep    = 0.2  // pitches from sample to sample along
)

// The face that two flashes light.
const (
	faceBands = 13  // that are laid out, to either side of the axis
	faceBand  = 0.7 // of a pitch that one of them is wide
)
