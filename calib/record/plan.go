package record

import (
	"fmt"

	"leadmark/calib/input"
	"leadmark/calib/provenance"
	"leadmark/calib/runfile"
	"leadmark/calib/words"
	"leadmark/fit/design"
	"leadmark/fit/unit"
)

// PlanEntry is what to shoot to reach a goal.
type PlanEntry struct {
	Goal     GoalEntry    `json:"goal"`
	Reached  bool         `json:"reached"`
	Possible bool         `json:"possible"` // within what the rig allows
	Batches  []BatchEntry `json:"batches"`
	Stage    []BatchEntry `json:"stage"` // of the batches, what to shoot before planning again
	Shots    int          `json:"shots"`
	ULagMS   *float64     `json:"u_lag_ms,omitempty"`  // expected after these shots
	UNextMS  *float64     `json:"u_next_ms,omitempty"` // expected after these shots
	Assumed  string       `json:"assumed,omitempty"`
	Text     string       `json:"text"`
}

// FirstPlanSchema names the format of a plan of a first run.
const FirstPlanSchema = "leadmark/first-plan/1"

// FirstPlan is a plan of a run of which nothing is shot yet, printed by itself.
type FirstPlan struct {
	Schema string `json:"schema"`
	provenance.Made
	PlanEntry
}

// NewFirstPlan makes the document of what to shoot first in a run.
func NewFirstPlan(run runfile.Run, s design.Schedule) FirstPlan {
	return FirstPlan{FirstPlanSchema, madeOf(run.Digest, run), NewPlanEntry(run.Goal, s)}
}

// madeOf says what was made from a run of that digest, and of what the rig tells of it: the shots that
// are planned depend on that too.
func madeOf(digest string, run runfile.Run) provenance.Made {
	return provenance.Of(input.Digest([]byte(digest), []byte(fmt.Sprintf("%+v", run.Limits)),
		[]byte(fmt.Sprintf("%+v", run.Goal)), []byte(fmt.Sprintf("%+v", run.Earlier))), run.Settings)
}

// GoalEntry is the standard uncertainty that was asked for, in milliseconds.
type GoalEntry struct {
	ULagMS  float64 `json:"u_lag_ms,omitempty"`
	UNextMS float64 `json:"u_next_ms,omitempty"`
}

// BatchEntry is a number of shots to make alike.
type BatchEntry struct {
	DropMM   *float64 `json:"drop_mm,omitempty"`
	SpeedMPS *float64 `json:"speed_mps,omitempty"`
	Group    string   `json:"group,omitempty"`
	DelayMS  float64  `json:"delay_ms"`
	Shots    int      `json:"shots"`
	Text     string   `json:"text"`
}

func goalEntry(g runfile.Goal) GoalEntry {
	if g.Next {
		return GoalEntry{UNextMS: unit.Stated(g.U * 1e3)}
	}
	return GoalEntry{ULagMS: unit.Stated(g.U * 1e3)}
}

func planEntry(g runfile.Goal, s *design.Schedule) *PlanEntry {
	if s == nil {
		return nil
	}
	e := NewPlanEntry(g, *s)
	return &e
}

// NewPlanEntry turns a plan into the units of the file format.
func NewPlanEntry(g runfile.Goal, s design.Schedule) PlanEntry {
	e := PlanEntry{Goal: goalEntry(g), Reached: s.Reached, Possible: s.Possible, Batches: batchEntries(s.Batches),
		Stage: batchEntries(s.Stage), Shots: s.Shots, Assumed: words.Sentence(s.Assumed), Text: words.Schedule(s)}
	if s.ULag > 0 {
		e.ULagMS = some(s.ULag * 1e3)
	}
	if s.UNext > 0 {
		e.UNextMS = some(s.UNext * 1e3)
	}
	return e
}

func batchEntries(list []design.Batch) []BatchEntry {
	out := []BatchEntry{}
	for _, b := range list {
		e := BatchEntry{Group: b.Group, DelayMS: unit.Stated(b.Delay * 1e3), Shots: b.Shots, Text: words.Batch(b)}
		if b.Drop > 0 {
			e.DropMM = new(unit.Stated(b.Drop * 1e3))
		}
		if b.Speed > 0 {
			e.SpeedMPS = new(unit.Stated(b.Speed))
		}
		out = append(out, e)
	}
	return out
}
