package tiles

// The numbers by which tiles and groups are judged. Where no study is named, a number was chosen by
// hand on drawn pictures and is held by scripts/readstudy and scripts/rulerstudy as a whole.

// Tiles.
const (
	// Side of a tile, px of the level: a power of two, which the transform wants, that holds some
	// periods of what is looked for. Fewer px tell pitches less well apart, more lose short rows.
	Side     = 32
	tileStep = Side / 2 // px of the level, from tile to tile

	// A tile must hold some four periods for its pitch to stand out, and a period must be some three
	// pixels long to be seen at all.
	minCycles    = 4.5 // periods in a tile
	maxCycles    = 12.5
	cyclesBefore = 0.4 // periods: a peak of the least is still one so far below it

	livelyEvery = 5 // rows of a tile, of which one is looked at for contrast, to save time
	livelyTones = 8 // of 255, of contrast without which a tile is passed over: twice what compression leaves

	noiseSlopes = 36 // tones squared, of both ways together: four variances of a noise of three tones
	// leastDirected is the coherence of a tile's slopes at the least. Lines as faint as can be read, over a
	// quarter of a tile, have 0.3; noise alone 0.08 as a standard deviation each way.
	leastDirected = 0.15

	mostSpikes   = 4    // peaks of a spectrum that are tried: marks, their numerals, an edge
	lowest       = 6    // bins squared, of what is no pitch but shading and edges
	leastShare   = 0.12 // of a tile's power about its direction, that its pitch holds
	standsBeside = 2.3  // bins beside a peak, the width that a Hann window gives it
	standsHigher = 3    // times as high as there, a peak is one
)

// A pitch or a direction that is looked for, as other frames showed it.
const (
	pitchLeast = 0.75 // of the pitch: rulers come nearer or go away by less
	pitchMost  = 1.33 // likewise
	dirAlike   = 0.96 // cosine: 16 degrees
)

// Groups.
const (
	reach       = 3    // steps of the grid to a neighbour: bridges a numeral or a scratch
	dirApart    = 0.12 // sine, between neighbours' directions: what a tile knows its own to
	pitchApart  = 0.09 // natural logarithm, between neighbours' pitches, likewise
	besideSteps = 1.2  // steps of tiles that a neighbour may lie aside
	besideShare = 0.3  // of the way along, likewise

	fewestTiles = 3    // of a group: two neighbours are alike by chance
	shortGroup  = 1.2  // steps of tiles, from the first to the last
	clearShare  = 0.45 // mean share of the tiles' power from which a group of two columns is believed:
	clearGroup  = 0.9  // steps of tiles, its length

	leanPrior   = 0.08 // rad, standard deviation of how marks lean: marks need not be square to the axis
	mostTurn    = 0.3  // rad, by which tiles may turn the axis
	leastSquare = 0.7  // cosine, between axis and marks' own, by which a pitch is shortened at the most
	slopeSteps  = 6    // steps of tiles along which a change of the pitch shows
	leastPitch  = 0.25 // of the pitch: a bad slope must not stop the search

	longPeriods = 15  // from which on, where the ruler is known to be, one level will do
	longShare   = 0.3 // of the tiles' power, likewise
	faintTones  = 3   // of 255: weave and compression patterns reach a level or so, marks many
)
