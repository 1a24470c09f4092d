package live

import (
	"context"

	"leadmark/calib/runfile"
)

// Setting says how the next frames are shot, and what uncertainty of the lag is aimed at.
type Setting struct {
	DropMM   *float64 `json:"drop_mm"`
	SpeedMPS *float64 `json:"speed_mps"`
	DelayMS  *float64 `json:"delay_ms"`
	Group    string   `json:"group"`
	GoalMS   *float64 `json:"goal_ms"`
	Also     []string `json:"also,omitempty"` // frames that are there and were shot so too
}

func formOf(c runfile.ShotCells, g runfile.Goal) Setting {
	f := Setting{DropMM: c.DropMM, SpeedMPS: c.SpeedMPS, DelayMS: c.DelayMS, Group: c.Group}
	if g.U > 0 {
		u := g.U * 1e3
		f.GoalMS = &u
	}
	return f
}

// Set keeps how the next frames are shot; each then gets its line in shots.csv when it comes.
func (r *Run) Set(ctx context.Context, f Setting) error {
	cells := runfile.ShotCells{DropMM: f.DropMM, SpeedMPS: f.SpeedMPS, DelayMS: f.DelayMS, Group: f.Group}
	if len(f.Also) > 0 && !cells.Empty() {
		r.mu.Lock()
		method := r.run.Method
		r.mu.Unlock()
		if _, err := runfile.AddShots(ctx, r.Dir, method, f.Also, cells); err != nil {
			return err
		}
	}
	r.change(func() {
		r.setting, r.goal, r.known = cells, runfile.Goal{}, map[string]bool{}
		if f.GoalMS != nil {
			r.goal.U = *f.GoalMS * 1e-3
		}
		for name := range r.frames {
			r.known[name] = true
		}
	})
	r.again()
	return nil
}
