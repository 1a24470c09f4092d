package plan

import (
	"leadmark/calib/rig"
	"leadmark/fit/note"
)

// fastestFlashes is how many flashes in one second are held safe for people with photosensitive
// epilepsy (W3C WCAG 2.2, 2.3.1).
const fastestFlashes = 3

// cautions are those of the project's design that a plan touches.
func cautions(p Plan) []note.Note {
	all := []note.Note{beamCaution(p.Request.Rig.Trigger.Class)}
	if len(p.Request.Rig.Flash) > 0 || p.Request.Rig.Name == "" {
		all = append(all, note.New("flash"), eyeCaution(p), burstCaution(p))
	}
	return append(all, note.New("animal"))
}

func beamCaution(class string) note.Note {
	switch class {
	case "3R", "3B", "4":
		return note.Of("beam", "too-strong", class)
	case "2", "2M":
		return note.Of("beam", "most", class)
	case "led", "1", "1M":
		return note.Of("beam", "fit")
	}
	return note.Of("beam", "unknown")
}

// closeHead and strongPower are from when a head is told as close and strong (our own choice, no
// source).
const (
	closeHead   = 1.0 // m
	strongPower = 0.25
)

func eyeCaution(p Plan) note.Note {
	if p.Light != nil {
		for i, h := range p.Light.Heads {
			if d := p.Request.Rig.Flash[i].Distance; h.Lights != rig.Backdrop &&
				h.Power >= strongPower && d < closeHead {
				return note.Of("eyes", "near", h.Name, rig.PowerText(h.Power), d)
			}
		}
	}
	return note.New("eyes")
}

func burstCaution(p Plan) note.Note {
	if hz := p.Request.Rig.Trigger.Burst; hz > fastestFlashes {
		return note.Of("seizures", "fast", hz)
	}
	return note.New("seizures")
}
