package main

// exactly is a number that is no limit: where it stands and why.
type exactly struct{ in, text, why string }

// exact are the numbers that are no limits by room, declaration and text, and why.
func exact() map[string]string {
	all := map[string]string{}
	for room, list := range exactNumbers() {
		for _, x := range list {
			all[room+" "+x.in+" "+x.text] = x.why
		}
	}
	return all
}

const (
	places   = "places in an array, or its size"
	channels = "three channels, or unknowns"
	finite   = "keeps arithmetic finite: a rounding's size"
	srgb     = "the sRGB curve (IEC 61966-2-1)"
	exif     = "the orientations of Exif 2.3"
	printed  = "the layout of the coded ruler, as it is printed"
	gaussian = "the exponent of a Gaussian"
	third    = "third differences, whose variance is 20 times the noise's"
	slopes   = "the variance of a Gaussian's slope in white noise"
	biweight = "Tukey's biweight, 95 % efficient in Gaussian errors"
	metre    = "millimetres to a metre"
)

func exactNumbers() map[string][]exactly {
	return map[string][]exactly{
		"vision/marks": {
			{"gaussWidth", "2.563", "10 to 90 % of a Gaussian, in its standard deviations"},
			{"crossing.width", "2.563", "10 to 90 % of a Gaussian, in its standard deviations"},
			{"sampled", "65536", "half of a fixed-point unit"},
			{"fixedBits", "20", "bits behind the point of a fixed-point number"},
			{"inside", "1e-12", finite}, {"chord", "1e-9", finite}, {"finding.cells", "1e3", metre},
			{"skew", "1.5", "the third moment over the second's power"}, {"noiseOf", "3", third}, {"noiseOf", "20", third},
			{"profile.top", "0.25", "the top of a parabola"}, {"profile.uncertainty", "4", slopes},
			{"profile.uncertainty", "3", slopes}, {"slope", "10", "a line's slope over five samples"},
		},
		"vision/marks/tiles": {
			{"fft.transform", "4", "the transform's radix"}, {"Group.rank", "4", "the sum of a Hann window"},
			{"tileFinder.refine", "0.5", "half a bin: a peak lies in its own"},
		},
		"vision/edge": {
			{"ownUnknowns", "5", places}, {"allUnknowns", "ownUnknowns + 3", places}, {"edgeUnknowns", "5", places},
			{"wholePlace", "0", places}, {"wholeTurn", "1", places}, {"wholeLo", "2", places}, {"wholeHi", "5", places},
			{"wholeSlope", "8", places}, {"wholeBlur", "9", places}, {"wholeSize", "10", places},
			{"blurSearch.improve", "3", channels}, {"variance3", "3", channels}, {"unmixed", "3", channels},
			{"Weights", "3", channels}, {"piece.improve", "3", channels}, {"placeAt", "3", channels},
			{"tensorOf", "3", channels}, {"edgeProfile.gaussFit", "4", channels}, {"pieces.even", "3", channels},
			{"tenToNinety", "2.5631", "10 to 90 % of a Gaussian, in its standard deviations"},
			{"shareVariance", "1.0", "the variance of the weights 1 4 6 4 1"},
			{"newLineFit", "4.685", biweight},
			{"pieces.gatherFrom", "4", "the area of a box given by its halves"},
			{"blurredAt", "700", finite}, {"edgeEquations.told", "1e-12", finite}, {"normal.solve", "1e-9", finite},
			{"normalReach", "6", "a table's reach: what it gives differs by 1e-5"},
			{"normalSteps", "128", "a table's fineness: what it gives differs by 1e-5"},
		},
		"vision/scene": {
			{"params", "8", places}, {"gain", "6", places}, {"offset", "7", places},
			{"smooth", "16", "the weights 1 4 6 4 1"}, {"smooth", "4", "the weights 1 4 6 4 1"},
			{"smooth", "3", "the weights 1 4 6 4 1"}, {"smooth", "8", "the weights 1 4 6 4 1"},
			{"aligner.improve", "1.25", "the standard deviation over the mean deviation of a normal distribution"},
			{"Shift", "3", places}, {"Shift", "4", places}, {"Shift", "5", places},
		},
		"vision/ruler/scale": {
			{"ByIndex.reweigh", "4.685", biweight}, {"ByIndex.normal", "3", channels}, {"ByIndex.summarise", "3", channels},
			{"inch", "25.4e-3", "the international inch (NIST SP 811)"}, {"Ten", "10", "decimal scales"},
		},
		"vision/ruler/reading": {
			{"candidate.weighBy", "0.5", gaussian}, {"frontKnown.tells", "0.5", gaussian},
			{"frontKnown.likelihood", "0.5", gaussian}, {"scaleOf", "1e-3", metre},
			{"tenNinety", "2.563", "10 to 90 % of a Gaussian, in its standard deviations"},
		},
		"vision/ruler/coded": {
			{"Layout", "20e-3", printed}, {"Layout", "3e-3", printed}, {"Layout", "4.5e-3", printed},
			{"Layout", "6e-3", printed}, {"Layout", "0.2e-3", printed}, {"Layout", "7.5e-3", printed},
			{"Layout", "11e-3", printed}, {"Layout", "12.5e-3", printed}, {"Layout", "3.5e-3", printed},
			{"Cells", "800", printed}, {"Window", "29", printed}, {"Distance", "6", printed},
			{"DistanceTens", "8", printed}, {"Dark", "16", "hexadecimal digits"}, {"Dark", "4", "hexadecimal digits"},
			{"Dark", "3", "hexadecimal digits"},
		},
		"vision/ruler/doubleflash": {
			{"pA", "0", places}, {"pB", "1", places}, {"pC", "2", places}, {"pMoved", "3", places}, {"pGain", "4", places},
			{"pWidth", "5", places}, {"pBlur", "6", places}, {"pSkew", "7", places}, {"parameters", "8", places},
			{"folded.costs", "1e-12", finite}, {"meanSquare", "1e-12", finite},
		},
		"calib/read": {
			{"light", "0.055", srgb}, {"light", "1.055", srgb}, {"light", "2.4", srgb},
			{"sharedFront", "1.2533", "the standard error of a median over a mean's"},
		},
		"calib/read/cache": {
			{"openFolder", "0o777", "a folder's rights"}, {"folder.save", "0o600", "a file's rights"},
		},
		"calib/read/moves": {
			{"newPlace", "-1", "no place of a list"}, {"unknownPlace", "-2", "no place of a list"},
			{"surest", "9", "three by three places of a picture"}, {"surest", "3", "three by three places of a picture"},
			{"surest", "1e-9", finite},
		},
		"vision/frame": {
			{"Differences", "1000", metre}, {"readExif", "1000", metre},
			{"readExif", "65535", "what the field of the ISO speed holds"}, {"readExif", "8", exif},
			{"parseOffset", "6", "the form +02:00"}, {"parseOffset", "10", "the form +02:00"},
			{"parseOffset", "8", "the form +02:00"}, {"parseOffset", "14", "the farthest zone"},
			{"parseOffset", "59", "minutes"}, {"parseOffset", "3600", "seconds"}, {"parseOffset", "60", "seconds"},
			{"Inspect", "5", exif}, {"endsWhole", "0xD9", "the end of a JPEG (T.81)"},
			{"numberText", "4", "digits that are printed"}, {"exposureText", "64", "bits of a number"},
		},
		"vision/pixel": {
			{"mosaic.inside", "4", "half way between two lines of blocks"}, {"ColourOf", "3", channels}, {"Colour.Reduced", "3", channels}, {"Samples", "3", channels},
			{"Photo.decodeJPEG", "3", channels}, {"Colour.upright", "3", channels},
			{"top", "0.04045", srgb}, {"top", "12.92", srgb}, {"top", "0.055", srgb}, {"top", "1.055", srgb}, {"top", "2.4", srgb},
			{"Tone", "12.92", srgb}, {"Tone", "0.0031308", srgb}, {"Tone", "1.055", srgb}, {"Tone", "2.4", srgb},
			{"Tone", "0.055", srgb},
			{"Decoder.Decode", "5", exif}, {"Decoder.Decode", "8", exif}, {"Photo.turned", "5", exif},
			{"Photo.turned", "8", exif}, {"Photo.asStored", "3", exif}, {"Photo.asStored", "4", exif},
			{"Photo.asStored", "5", exif}, {"Photo.asStored", "6", exif}, {"Photo.asStored", "7", exif},
			{"Photo.asStored", "8", exif}, {"upright", "3", exif}, {"upright", "4", exif}, {"upright", "5", exif},
			{"upright", "6", exif}, {"upright", "7", exif}, {"upright", "8", exif}, {"Colour.upright", "8", exif},
			{"Gray.Half", "4", "the mean of four"}, {"FindingScale", "8", "the most that a JPEG is reduced by while it is decoded"},
		},
	}
}
