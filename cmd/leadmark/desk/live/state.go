package live

import (
	"slices"
	"strings"

	"leadmark/calib"
	"leadmark/calib/record"
	"leadmark/calib/rig"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/desk/reply"
	"leadmark/cmd/leadmark/report/annotate"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/cmd/leadmark/report/summary"
	"leadmark/fit/design"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// State is what a page shows of a run, from one revision to another.
type State struct {
	Run      string                `json:"run"`
	Rev      int                   `json:"rev"`
	Whole    bool                  `json:"whole"` // all frames are in it, not only those that changed
	Rig      string                `json:"rig"`
	Method   string                `json:"method"`
	Travel   string                `json:"travel"`
	Head     *phrase.Headline      `json:"head,omitempty"`
	Next     summary.NextStep      `json:"next"`
	Answer   []phrase.Line         `json:"answer"`
	Trail    []trailPoint          `json:"trail"`
	Warnings []record.WarningEntry `json:"warnings"`
	Trip     *Stroke               `json:"trip,omitempty"`
	TripName string                `json:"trip_name,omitempty"`
	TripUMM  float64               `json:"trip_u_mm,omitempty"`
	TripHand bool                  `json:"trip_by_hand"`
	Problem  *reply.Problem        `json:"problem,omitempty"`
	Note     string                `json:"note,omitempty"`
	Waiting  []string              `json:"waiting"`
	Settled  bool                  `json:"settled"`
	Undo     string                `json:"undo,omitempty"` // what undo would take back
	Setting  Setting               `json:"setting"`
	Accept   acceptView            `json:"accept"`
	ResultAt int                   `json:"result_at"`
	Read     int                   `json:"read"`
	Frames   []FrameView           `json:"frames"`
	Gone     []string              `json:"gone"`
}

// acceptView says whether the result can join the rig's history.
type acceptView struct {
	OK  bool   `json:"ok"`
	Why string `json:"why,omitempty"`
}

// State is what changed since a revision, all of it since 0.
func (r *Run) State(since int) State {
	r.mu.Lock()
	defer r.mu.Unlock()
	s := State{Run: r.name, Rev: r.rev, Whole: since <= 0 || since > r.rev, Rig: r.run.Rig,
		Method: string(r.run.Method), Travel: string(r.run.Travel),
		Note: r.cache.Note(), Settled: r.answered, ResultAt: r.resultAt, Setting: formOf(r.setting, r.goal),
		Trail: append([]trailPoint{}, r.trail...), Waiting: append([]string{}, r.waiting...),
		Warnings: []record.WarningEntry{}, Frames: []FrameView{}, Gone: []string{}, Answer: []phrase.Line{}}
	if s.Whole {
		since = 0
	}
	for _, f := range r.frames {
		if f.Status == ruler.StatusRead {
			s.Read++
		}
		if f.rev > since {
			s.Frames = append(s.Frames, f.view)
		}
	}
	slices.SortFunc(s.Frames, func(a, b FrameView) int { return frame.CompareNames(a.File, b.File) })
	for name, rev := range r.gone {
		if rev > since {
			s.Gone = append(s.Gone, name)
		}
	}
	if n := len(r.undo); n > 0 {
		s.Undo = r.undo[n-1].text
	}
	r.tell(&s)
	return s
}

// tell adds what the run says.
func (r *Run) tell(s *State) {
	if err := r.fatal; err != nil {
		p := reply.ProblemOf(err)
		s.Problem = &p
	} else if r.err != nil && len(r.frames) > 0 {
		p := reply.ProblemOf(r.err)
		s.Problem = &p
	}
	if c := r.run.Corrections.Trip; c != nil {
		s.TripHand, s.TripUMM = true, c.U*1e3
	} else if t := r.run.Trip; t != nil {
		s.TripUMM = t.U * 1e3
	}
	if r.result == nil || r.err != nil {
		s.Next, s.Accept = r.firstStep(), acceptView{Why: "there is no result yet"}
		return
	}
	head := summary.Head(*r.result)
	s.Head, s.Answer, s.Next = &head, summary.Answer(*r.result), summary.Next(*r.result)
	s.Warnings = record.WarningEntries(*r.result)
	if trip := annotate.TripOf(*r.result); trip.Line != nil {
		t := StrokeOf(trip.Line.A, trip.Line.B)
		s.Trip, s.TripName = &t, trip.Name
	}
	s.Accept = r.acceptable()
}

// acceptable says whether the result could join the rig's history.
func (r *Run) acceptable() acceptView {
	if err := rig.Acceptable(*r.result); err != nil {
		return acceptView{Why: reply.ProblemOf(err).What}
	}
	switch {
	case r.run.Rig == "":
		return acceptView{Why: `run.toml does not say which rig this is: add rig = "NAME"`}
	case !r.store.Has(r.run.Rig):
		return acceptView{Why: "there is no profile of " + r.run.Rig + " yet: make it on the page Rigs"}
	}
	return acceptView{OK: true}
}

// firstStep is what to do before anything could be told.
func (r *Run) firstStep() summary.NextStep {
	switch {
	case r.err != nil && len(r.frames) > 0:
		return summary.NextStep{Text: "Not enough yet", Why: "Shoot on; what is missing stands below."}
	case !r.answered:
		return summary.NextStep{Text: "Reading …"}
	case r.run.Method == "":
		return summary.NextStep{Text: "Say what is done here",
			Why: "run.toml cannot be read: " + reply.ProblemOf(r.err).What}
	}
	if r.goal.U > 0 {
		run := r.run
		run.Goal = r.goal
		if p, err := calib.PlanFirst(run); err == nil {
			return summary.NextStep{Text: stageText(p), Why: words.Schedule(p)}
		}
	}
	return summary.NextStep{Text: "Drop the ruler through the beam",
		Why: "From two heights at least, four times each: the lag and the place of the beam are told apart by that."}
}

func stageText(p design.Schedule) string {
	var parts []string
	for _, b := range p.Stage {
		parts = append(parts, words.Batch(b))
	}
	return strings.Join(parts, "; ")
}
