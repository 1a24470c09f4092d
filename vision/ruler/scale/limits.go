package scale

// The numbers by which a row's scale is fitted and its lines are told by their lengths. Where nothing
// else is named, a number was chosen by hand on drawn rulers and photographs, and is held by
// scripts/readstudy and scripts/rulerstudy as a whole.

// Ten is how many lines further on the next numbered one of a decimal scale stands: a scale divided
// finely at its beginning may go on with its tens alone.
const Ten = 10

// FewestTens is how many steps of ten tell such a scale.
const FewestTens = 3

// Foreshortening is the prior standard deviation of c for a whole row: with a camera some
// 0.3 m off, a row 0.1 m long tilted by 15 degrees changes its pitch by about a tenth. It keeps
// c from being guessed where few marks cannot tell it.
const Foreshortening = 0.3

// MostBent bounds the size of c: at 1 a line would lie infinitely far. No frame met it (scripts/limits).
const MostBent = 0.8

// The fit of a scale.
const (
	fewestMarks  = 4    // three unknowns and one over; with fewer the fit fails
	startParts   = 3    // of a row; the first guess's slopes go over one
	lastFloor    = 1e-3 // pitches, bound on what counts as it has come down; chosen by hand
	floorFalls   = 0.7  // share of that bound that is left from step to step; likewise
	leastScatter = 0.01 // pitches, robust standard deviation that is assumed at the least
	priorScatter = 0.03 // pitches, usual residual, against which Foreshortening is weighed
	leastPlacing = 0.02 // px, standard deviation with which marks are placed at the best
)

// Likelihood of lengths.
const (
	leastGrain   = 0.1  // pitches, of the lengths as they are seen
	outlierShare = 0.05 // share of lines whose length a scratch or an edge hides
	numbered     = 0.4  // and of the longest, which a numeral's stroke may seem to lengthen
	anyLength    = 10.0 // pitches over which such a length may lie
)

// Orders of lengths that are no ruler's.
const (
	longestTurn = 9 // marks, after which lengths that are no ruler's may come again
	fewestTurns = 5 // that must be seen

	// nats that a pattern must be better than lines of which every second or third is another: over
	// drawn rulers of 25 lines and more never less than 3
	overSimple = 1.0

	fewestByTurns = 7   // longest lines that tell whether they are longer and shorter by turns
	turnsApart    = 1.0 // pitches between those: a numeral lengthens a line by less, but not by turns
	turnsOff      = 1   // lines that may be out of turn
)

// Lengths as they are seen.
const (
	stretch = 10 // marks, of whose lengths the lower quartile is a shortest line's

	// A line is not longer than so many pitches, twice what most lines reach, or so many times the short
	// ones: what seems to is a numeral or the ruler's end.
	longestLine = 12.0 // pitches
	mostShare   = 0.85 // of the lines, that are no longer than most
	beyondMost  = 2.0  // times as long as those, and pitches
	shortShare  = 0.25 // of the lines, that are no longer than the short ones
	timesShort  = 3.2  // times as long as those
)

// Patterns.
const (
	decimalInch = 6.0  // nats, Rare of graduations that one ruler in some 400 has
	printedOff  = 0.02 // relative: printed rulers come out longer or shorter by up to this

	clearlyLonger = 0.3  // pitches, the longest class against the shortest
	justLonger    = 0.15 // pitches, of each class against the next where they halve
	mayExceed     = 0.3  // pitches, of a class over the next longer elsewhere: a numeral at some may lengthen them
	belowShortest = 0.1  // pitches by which a longer class may seem shorter than the shortest
	fiftieth      = 50   // lines from one of the longest to the next, of fiftieths of an inch

	// What a numeral adds to a line is more, and lines of one class, taken for two, differ by less: the
	// longest lines must be longer than the next by these shares of what those are longer than the third.
	leastStep   = 0.35
	mostStep    = 3.0
	runsOn      = 0.95 // of the longest that is told, from which on a line may be longer
	unevenSteps = 6.0  // nats that a pattern loses where they are not
)

// Sureness of a pattern.
const (
	// TellApart is by how many nats one pattern must be likelier than another for that to be out of the
	// question.
	TellApart = 8.0

	// by how many nats a place of the longest lines must be likelier than that midway between them, for the
	// two to be told apart: lines so long that their ends are not seen seem alike
	halfTold = 3.0

	// The shortest lines of rulers: median, and standard deviation of the logarithm, of 17 scales on
	// photographs of rulers (testdata of the reader), 1.3 to 5.4 mm.
	shortLine   = 2.75e-3 // m
	shortLineSD = 0.45
)

// A folding rule's joint. Set by scripts/rulerstudy, and by the photographs, of which none has one.
const (
	jointMarks = 10  // to either side of it, that tell it
	plainJoint = 8.0 // standard uncertainties
	leastJoint = 0.1 // pitches, by which the lines are set off at the least: seams of printed rules are by less
)

// A dial's arc.
const (
	leastRadius = 200 // graduations: dials have 15 to 70, rulers under a lens that bends them thousands
	plainlyBent = 2.0 // standard uncertainties
)
