package summary

import (
	"leadmark/calib/input"
	"leadmark/cmd/leadmark/report/phrase"
)

// FrameRemedy says what to change at the set after a frame that could not be used, by the code of
// its reason; "" where nothing at the set would help.
func FrameRemedy(code string) string {
	return map[string]string{
		"no-ruler":            "More light on the ruler, focus on its marks, and all of it in the picture.",
		"too-few-graduations": "Bring more of the ruler into view, or sharpen the focus.",
		"dark":                "The flash did not fire: look at heads, batteries, sync.",
		"front-not-visible":   "The ruler's end left the picture: aim further along the fall, or move back.",
		"before-trip":         "A false trip: shield the beam, or let the ruler hang still before letting go.",
		"two-rulers":          "Take the other ruler out of the picture.",
		"off-track":           "The ruler fell askew: guide it straight down the track.",
		"camera-moved":        "Fix the camera, then shoot on; the frames from here stand apart.",
		"blurred":             "Focus on the ruler, or lower the flash power for a shorter flash.",
		"twin-not-seen":       "One of the two flashes is missing: check both heads.",
		"truncated":           "The file is cut short: copy it from the card again.",
		"damaged":             "The file is damaged: copy it from the card again.",
		"replaced":            "Let the run be read again.",
		"not-listed":          "Say how it was shot: its height is not known yet.",
		"no-conditions":       "Say how it was shot: its height is not known yet.",
		"unsupported-format":  "Let the camera write JPEG beside the RAW file.",
	}[code]
}

// Remedy parts an error into what is wrong and what to do, in sentences.
func Remedy(err error) (what, todo string) {
	for _, e := range input.Faults(err) {
		w, h := input.Describe(e)
		return phrase.Sentence(w), h
	}
	return "", ""
}
