package plan

import (
	"fmt"
	"time"

	"leadmark/calib/input"
	"leadmark/calib/plan/predict"
	"leadmark/calib/rig"
	"leadmark/fit/note"
)

// UseRig puts a rig into a request: its profile, the law of its lag by the calibration in force,
// and what is doubtful about that. An assumed lag stands in the place of the calibration's. A rig
// without a calibration is an *input.NoResult then.
func (req *Request) UseRig(store rig.Store, name string, assumed *predict.Law,
	now time.Time) error {
	var err error
	if req.Rig, err = store.Load(name); err != nil {
		return err
	}
	if assumed != nil {
		req.Lag = *assumed
		return nil
	}
	h, err := store.History(name)
	if err != nil {
		return err
	}
	f, ok := h.InForce()
	if !ok {
		return &input.NoResult{What: fmt.Sprintf("%s has never been calibrated, so its lag is not known",
			name),
			Hint: "calibrate it: leadmark calibrate RUN --rig " + name +
				" --accept\nor assume values, which the plan then marks: --lag-ms L --spread-ms S"}
	}
	req.Lag, err = LagOf(name, f.Entry)
	req.Notes = calibrationNotes(req.Rig, h, f, now)
	return err
}

// calibrationNotes are doubts about the calibration in force.
func calibrationNotes(p rig.Profile, h rig.History, f rig.InForce, now time.Time) []note.Note {
	var notes []note.Note
	if days, due := p.Age(f.Entry, now); due {
		notes = append(notes, note.New("calibration-old", days, p.Limits.RecalibrateDays))
	}
	if n := len(h.Damaged); n > 0 {
		notes = append(notes, note.New("calibrations-damaged", n))
	}
	return notes
}
