package reading

import (
	"math"

	"leadmark/fit/note"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/scale"
)

// interpretSingle reads a sighting lit by one flash.
func interpretSingle(s ruler.Sighting, spec ruler.Spec) ruler.Reading {
	cands := candidates(s, spec)
	if len(cands) == 0 {
		return refuse(whyNoRow(s, spec))
	}
	best := choose(cands, spec).foremost(cands, spec)
	r := best.read(s, spec)
	if other, ok := secondRuler(best, cands); ok {
		r.Warnings = append(r.Warnings,
			note.New("two-rulers", other.X, other.Y, best.middle().X, best.middle().Y))
	}
	return r
}

// choose picks the row to read: of the stated graduation, else millimetres before inches, else
// the clearest; of rows that suit another graduation better the less, the better.
func choose(cands []candidate, spec ruler.Spec) candidate {
	best, top := cands[0], math.Inf(-1)
	for _, c := range cands {
		v := c.score * math.Exp(-c.behind())
		if spec.Graduation > 0 && c.match.Graduation > 0 {
			v *= preferred
		}
		if spec.Graduation == 0 && c.match.Unit == "inch" {
			v /= preferred
		}
		if v > top {
			best, top = c, v
		}
	}
	return best
}

func refuse(why note.Note) ruler.Reading {
	if why.Code == "" {
		why = note.Of("no-ruler", "none")
	}
	return ruler.Reading{Status: ruler.StatusRefused, Reason: why}
}

// whyNoRow tells a ruler divided otherwise than stated, and too short a row, from no ruler at all.
func whyNoRow(s ruler.Sighting, spec ruler.Spec) note.Note {
	if spec.Graduation > 0 {
		plain := spec
		plain.Graduation = 0
		if other := candidates(s, plain); len(other) > 0 {
			return note.New("graduation-disagrees", choose(other, plain).match.Graduation, spec.Graduation)
		}
	}
	for _, row := range s.Rows {
		l, ok := scale.Fit(row.Marks)
		body := row.Sides[0] != nil && row.Sides[1] != nil // words and grids have none
		if ok && body && l.Used < fewestMarks && l.RMS < evenRow*l.Pitch(l.Mid) {
			return note.New("too-few-graduations", l.Used, fewestMarks)
		}
	}
	return note.New("no-ruler")
}
