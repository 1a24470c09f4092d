package plan

import (
	"fmt"

	"leadmark/calib/rig"
)

// fastestFlashes is how many flashes in one second are held safe for people with photosensitive
// epilepsy (W3C WCAG 2.2, 2.3.1).
const fastestFlashes = 3

// cautions are those of the project's design that a plan touches.
func cautions(p Plan) []string {
	var all []string
	all = append(all, beamCaution(p.Request.Rig.Trigger.Class))
	if len(p.Request.Rig.Flash) > 0 || p.Request.Rig.Name == "" {
		all = append(all,
			"Flash: never open a head, its capacitor can kill. Keep mains gear away from water "+
				"and behind a residual-current device, fitted by a licensed electrician.")
		all = append(all, eyeCaution(p))
		all = append(all, burstCaution(p))
	}
	return append(all,
		"Animal: permits and local wildlife law come first. Ruler first, animal last; hold it "+
			"for the least time, never force it, let it rest between trips, give shade and moisture, "+
			"put it back exactly where it was found, and stop at signs of stress.")
}

func beamCaution(class string) string {
	const rules = "Never at eye height of a person or animal; end it on a matt stop. IEC 60825-1 " +
		"and local rules govern."
	switch class {
	case "3R", "3B", "4":
		return fmt.Sprintf("Beam: a class %s laser can hurt eyes and does not belong in this "+
			"set. Put a class 1 or an infrared LED beam in its place. %s", class, rules)
	case "2", "2M":
		return fmt.Sprintf("Beam: class %s is the most that may be used, and only visible, below "+
			"1 mW; class 1 or an infrared LED beam is better. %s", class, rules)
	case "led", "1", "1M":
		return "Beam: " + rules
	}
	return "Beam: use the lowest class that works, class 1 or an infrared LED beam; class 2 " +
		"(visible, below 1 mW) at most. " + rules
}

// closeHead and strongPower are from when a head is told as close and strong (our own choice, no
// source).
const (
	closeHead   = 1.0 // m
	strongPower = 0.25
)

func eyeCaution(p Plan) string {
	if p.Light != nil {
		for i, h := range p.Light.Heads {
			if d := p.Request.Rig.Flash[i].Distance; h.Lights != rig.Backdrop &&
				h.Power >= strongPower && d < closeHead {
				return fmt.Sprintf("Eyes: %s would fire at %s only %.0f mm from the animal. Keep "+
					"strong flashes away from eyes; lower power with a higher ISO or wider "+
					"aperture spares them.", h.Name, rig.PowerText(h.Power), d*1e3)
			}
		}
	}
	return "Eyes: keep full-power flash away from the eyes of people and animals; use the lowest " +
		"power that does."
}

func burstCaution(p Plan) string {
	if hz := p.Request.Rig.Trigger.Burst; hz > fastestFlashes {
		return fmt.Sprintf("Seizures: %g flashes a second is more than the three in one second "+
			"that are held safe for people with photosensitive epilepsy. Warn everyone, or fire more slowly.",
			hz)
	}
	return "Seizures: repeated flashes can set off seizures in people who are sensitive to them; " +
		"keep below three a second."
}
