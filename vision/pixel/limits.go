package pixel

// What keeps input safe: bounds of what is decoded. They stay, whatever they decide.
const (
	maxPixels       = 200e6 // pixels, of a picture that is decoded
	maxGoPixels     = 60e6  // pixels, by Go's own decoders: they hold up to eight bytes a pixel
	MaxColourPixels = 100e6 // pixels, in colour, three bytes a pixel

	// sparePerCore bounds how many slices are kept, for each core: a picture's file, its pixels, those
	// reduced, and a part of them.
	sparePerCore = 4
	spareBits    = 4 // leading bits of a slice's length that are kept: an eighth longer than asked for, at most
)

// How far pictures are reduced.
const (
	coarsest     = 16   // px of the picture that a pixel of the last level stands for: 1/8 inch at 0.04 mm a px
	shortestSide = 64   // px, of a level that is halved
	sceneLevel   = 8    // px of the picture that a pixel stands for, at the most, where scenes are compared
	findingSide  = 1600 // px, about, the longer side of the reduced picture in which animals are found
)

// What shows that a JPEG's data are broken: set by scripts/mutants, and by scripts/rulerstudy and the
// photographs of real rulers, of which none may be refused.
const (
	fewUnits = 2 // coding units a picture must have each way for its rows to tell anything

	// A seam.
	seamStep  = 4   // code values: a smaller one is not looked for
	mostOff   = 5   // one in so many columns may show it otherwise: broken units, tones at black and white
	plainly   = 3   // times the steps inside the units
	roughness = 0.5 // code values, of these at the least: rounding
	fewestIn  = 12  // units in a row
	fewBeside = 3   // units on each side of where it begins, for it to be seen that it goes up by a row there

	// Rows that do not fit: where one coding unit meets the next below, the tone jumps unfitting times
	// as much as inside one, and by worthSeeing code values more. At the width that the data were made
	// for, what it jumps more than inside is a fitting-th of that at the most. Stripes that begin with
	// each row fit that well only about a whole number of rows further on, to a fitting-th of a row:
	// there it tells nothing. What repeats itself within periods units, as squares do, fits as well
	// half a row further.
	unfitting   = 3
	worthSeeing = 2
	fitting     = 8
	periods     = 4
)
