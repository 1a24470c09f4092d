package words

import (
	"fmt"

	"leadmark/fit/note"
)

// cautions are what a plan tells to be careful of.
func cautions() map[string]say {
	const rules = "Never at eye height of a person or animal; end it on a matt stop. IEC 60825-1 and local " +
		"rules govern."
	return map[string]say{
		"beam/too-strong": as("Beam: a class %s laser can hurt eyes and does not belong in this set. Put a class " +
			"1 or an infrared LED beam in its place. " + rules),
		"beam/most": as("Beam: class %s is the most that may be used, and only visible, below 1 mW; class 1 or an " +
			"infrared LED beam is better. " + rules),
		"beam/fit": as("Beam: " + rules),
		"beam/unknown": as("Beam: use the lowest class that works, class 1 or an infrared LED beam; class 2 " +
			"(visible, below 1 mW) at most. " + rules),
		"flash": as("Flash: never open a head, its capacitor can kill. Keep mains gear away from water and behind " +
			"a residual-current device, fitted by a licensed electrician."),
		"eyes": as("Eyes: keep full-power flash away from the eyes of people and animals; use the lowest power " +
			"that does."),
		"eyes/near": as("Eyes: %s would fire at %s only %.0f mm from the animal. Keep strong flashes away from "+
			"eyes; lower power with a higher ISO or wider aperture spares them.").in(asItIs, asItIs, milli),
		"seizures": as("Seizures: repeated flashes can set off seizures in people who are sensitive to them; keep " +
			"below three a second."),
		"seizures/fast": as("Seizures: %g flashes a second is more than the three in one second that are held " +
			"safe for people with photosensitive epilepsy. Warn everyone, or fire more slowly."),
		"animal": as("Animal: permits and local wildlife law come first. Ruler first, animal last; hold it for the " +
			"least time, never force it, let it rest between trips, give shade and moisture, put it back exactly " +
			"where it was found, and stop at signs of stress."),
	}
}

// changes are small changes of a planned set.
func changes() map[string]say {
	return map[string]say{
		"change/spread":     as("half the spread of the lag (a steadier trigger)"),
		"change/heading":    as("half the scatter of the heading (a longer or narrower way out)"),
		"change/opening":    as("half the opening"),
		"change/field":      as("10 %% wider field"),
		"change/flash-up":   as("f/%g, and the flash one stop up (diffraction then %.2g µm)").in(asItIs, micro),
		"change/flash-down": as("f/%g, and the flash one stop down (diffraction then %.2g µm)").in(asItIs, micro),
		"change/iso-up":     as("f/%g, and the ISO one stop up (diffraction then %.2g µm)").in(asItIs, micro),
		"change/iso-for-flash": func(n note.Note) string {
			stops := "one stop"
			if n.Number(0) > 1 {
				stops = "two stops"
			}
			return fmt.Sprintf("the flash %[1]s down, and the ISO %[1]s up", stops)
		},
		"change/nose":  as("the nose alone in focus, not the whole body"),
		"change/print": as("judged on a print two thirds as long"),
	}
}
