package doubleflash

// Where no other study is named, a limit was set on scripts/flashstudy -seed 101, -frames 40.
const (
	// A line to begin with, graduations. Common practice, no source: lines are a sixth to a quarter of a
	// graduation wide; a blur of a tenth is that of a sharp picture.
	usualWidth, usualBlur = 0.2, 0.1
	// How far a line may be from that: standard deviations of the two logarithms, and of the skew.
	widthSD, blurSD, skewSD = 0.4, 0.7, 1.0
	// A line beyond these is none that could be told from what is beside it, graduations.
	leastWidth, leastBlur, widest, mostSkew = 0.02, 0.01, 0.6, 2.0

	// px, by which light along the axis is correlated: the blur of a sharp picture and of JPEG's blocks.
	// All nats are counted by it.
	correlated = 3.0
	// Samples of a part, graduations of one, bands seen: with fewer a fit has more parameters than data.
	shortest, fewest, fewestBands = 16, 8.0, 3
	darkest                       = 1e-5 // light of 1, below which it has no relative contrast
	evened                        = 20   // graduations over which light is taken as even: two periods of millimetres

	// graduations from the row's end, or its part, within which one flash may show no lines
	unsafePitches, unsafePart = 14, 0.4
	phaseWindow               = 8.0  // graduations, in which the phase of the lines is taken
	coarseParts               = 8    // places tried a graduation: a line's half width
	coarseGain                = 1.6  // either way, of the two gains tried: between 1 and mostGain
	leastLeft                 = 1e-3 // of a band's power that no comb explains
	mostFits                  = 3    // combs refined of each to begin with; with 2 some are lost

	// The second flash's light over the first's, either way: docs/formats-additions.md states a third;
	// beyond mostGain it is no second flash but the first one's blur.
	mostGain, triedGain = 3.2, 3.5
	// graduations that the ruler moves; edges closer than that are not told apart
	leastMove, mostMove = 0.6, 60
	leastCoherent       = 0.7  // share of an edge's lines side by side that agree
	mostUnlike          = 6.0  // contrast of the two front ends, either way: gains, and tone
	mostPairs           = 40   // pairs of edges tried; bounds the work
	agree               = 0.45 // graduations, by which front ends and lines may differ: half of one, or they name another

	// Standard deviations of what front ends and lines disagree by beyond the edges' own, and of front_mm,
	// graduations; and nats
	// from which on more makes no difference.
	endsOff, frontOff, surelyApart = 0.06, 0.3, 50
	faint                          = 20.0 // nats for an end e times as faint: shadows are a tenth
	// graduations: lines looked for before an end and beyond it, and what the end's own edge takes
	endLines, pastLines, ownEdge = 3.4, 2.5, 0.6
	surelyEnds                   = 100.0 // nats: the most that lines which end at an end count for
	sure                         = 20.0  // nats by which two combs must beat one, and any other
	differ                       = 0.5   // graduations between readings of a picture that are others, not doubt about one

	plainShare = 0.6 // of the plainest band's, that lines must make up of a band for it to place them
	// px, standard uncertainty of the movement that more lines do not reduce: what lines look like where
	// they overlap, and what comes again with them.
	placing = 0.036
	mostU   = 0.2 // graduations: where the movement is known less well, which lines belong together is not known

	farthest = 1e5 // graduations from where a scale begins, beyond which no lines are laid; bounds the work
	// Levenberg and Marquardt's; nats below which a step gains nothing
	leastDamping, mostDamping, settled = 1e-4, 1e2, 1e-3
)
