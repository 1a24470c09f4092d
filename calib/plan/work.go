package plan

import (
	"math"

	"leadmark/calib/plan/light"
	"leadmark/calib/plan/reach"
	"leadmark/calib/plan/subject"
	"leadmark/fit/note"
)

// work is a plan in the making.
type work struct {
	req      Request
	opt      Options
	model    *reach.Model
	set      *reach.Sample
	reach    reach.Box
	lead     reach.Lead
	framing  Framing
	focused  *Focus
	light    *light.Light
	chances  *Chance
	warnings []note.Note
	drawn    int
}

// settingsOf are the settings of a plan; known says whether the flash's duration is.
func (w *work) settingsOf() (k settings, known bool) {
	k = settings{frame: w.framing.window(), far: w.focused.Far, near: w.focused.Near,
		nose: w.req.Subject.FocusOn == subject.FocusNose, stop: math.Inf(1)}
	if w.light != nil && w.light.Longest != nil {
		k.stop, known = stopPace(w.light.Longest.T01, w.framing.Optics.Magnification,
			w.focused.Limit), true
	}
	return k, known
}
