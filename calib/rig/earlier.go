package rig

import (
	"fmt"

	"leadmark/calib/runfile"
)

// Earlier is what the calibration in force tells for the planning of another run; zero where there
// is none, or it tells no lag.
func (s Store) Earlier(name string) runfile.Earlier {
	h, err := s.History(name)
	if err != nil {
		return runfile.Earlier{}
	}
	f, ok := h.InForce()
	if !ok || f.Entry.Lag == nil {
		return runfile.Earlier{}
	}
	e := runfile.Earlier{Lag: f.Entry.Lag.ValueMS * 1e-3,
		Name: fmt.Sprintf("the lag as calibration %d of %s has it", f.Number, name)}
	if v := f.Entry.Spread; v != nil && v.ValueMS > 0 {
		e.Spread, e.Name = v.ValueMS*1e-3, fmt.Sprintf("as calibration %d of %s has them", f.Number, name)
	}
	return e
}
