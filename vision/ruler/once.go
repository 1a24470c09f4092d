package ruler

import (
	"fmt"
	"math"
)

// interpretOnce reads a sighting lit by one flash.
func interpretOnce(s Sighting, spec Spec) Reading {
	cands := candidates(s, spec)
	if len(cands) == 0 {
		return refuse(whyNoRow(s))
	}
	best := choose(cands, spec).foremost(cands, spec)
	r := best.read(s, spec)
	if other, ok := secondRuler(best, cands); ok {
		r.Warnings = append(r.Warnings, Reason{"two-rulers", fmt.Sprintf(
			"a second ruler lies at about (%.0f, %.0f) px; the one at (%.0f, %.0f) px was read",
			other.X, other.Y, best.middle().X, best.middle().Y)})
	}
	return r
}

// choose picks the row to read: of the stated graduation, else millimetres before inches, else
// the clearest.
func choose(cands []candidate, spec Spec) candidate {
	best, top := cands[0], math.Inf(-1)
	for _, c := range cands {
		v := c.score
		if spec.Graduation > 0 && c.match.graduation > 0 {
			v *= 3
		}
		if spec.Graduation == 0 && c.match.unit == "inch" {
			v /= 3
		}
		if v > top {
			best, top = c, v
		}
	}
	return best
}

func refuse(why Reason) Reading {
	if why.Code == "" {
		why = Reason{"no-ruler", "no row of regular graduations was found"}
	}
	return Reading{Status: StatusRefused, Reason: why}
}

// whyNoRow tells too short a row from no ruler at all.
func whyNoRow(s Sighting) Reason {
	for _, row := range s.Rows {
		l, ok := fitLattice(row.Marks)
		if ok && l.used >= 6 && l.used < fewestMarks && l.rms < 0.05*l.pitch(l.mid) {
			return Reason{"too-few-graduations", fmt.Sprintf(
				"only %d graduations can be seen; %d are needed: show more of the ruler, or light it better",
				l.used, fewestMarks)}
		}
	}
	return Reason{"no-ruler", "no row of regular graduations was found; is the ruler in the light and in focus?"}
}
