package desk

import (
	"cmp"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"leadmark/calib"
	"leadmark/calib/record"
	"leadmark/calib/rig"
	"leadmark/cmd/leadmark/report/annotate"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/cmd/leadmark/report/summary"
	"leadmark/fit/design"
	"leadmark/fit/unit"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// state is what a page shows of a run, from one revision to another.
type state struct {
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
	Trip     *strokeView           `json:"trip,omitempty"`
	TripName string                `json:"trip_name,omitempty"`
	TripUMM  float64               `json:"trip_u_mm,omitempty"`
	TripHand bool                  `json:"trip_by_hand"`
	Problem  *problem              `json:"problem,omitempty"`
	Note     string                `json:"note,omitempty"`
	Waiting  []string              `json:"waiting"`
	Settled  bool                  `json:"settled"`
	Undo     string                `json:"undo,omitempty"` // what undo would take back
	Setting  settingForm           `json:"setting"`
	Accept   acceptView            `json:"accept"`
	ResultAt int                   `json:"result_at"`
	Read     int                   `json:"read"`
	Frames   []frameView           `json:"frames"`
	Gone     []string              `json:"gone"`
}

// acceptView says whether the result can join the rig's history.
type acceptView struct {
	OK  bool   `json:"ok"`
	Why string `json:"why,omitempty"`
}

// strokeView is a stroke on a picture: x1, y1, x2, y2 in pixels of the frame as displayed.
type strokeView [4]float64

func strokeOf(a, b ruler.Point) strokeView {
	return strokeView{tenth(a.X), tenth(a.Y), tenth(b.X), tenth(b.Y)}
}

func tenth(x float64) float64 { return unit.Fixed(x, 1) }

// frameView is a frame on a page.
type frameView struct {
	File      string       `json:"file"`
	Status    string       `json:"status"`
	Code      string       `json:"code,omitempty"`   // why it was not read
	Reason    string       `json:"reason,omitempty"` // the same in words
	Todo      string       `json:"todo,omitempty"`   // what to change at the set
	Value     string       `json:"value,omitempty"`  // its advance
	Note      string       `json:"note,omitempty"`
	Condition string       `json:"condition,omitempty"`
	Outlier   bool         `json:"outlier,omitempty"`
	Corrected []string     `json:"corrected,omitempty"`
	Width     int          `json:"width"`
	Height    int          `json:"height"`
	Clip      *[5]float64  `json:"clip,omitempty"` // where the small picture lies: left, top, scale, width, height
	Front     *strokeView  `json:"front,omitempty"`
	Twin      *strokeView  `json:"twin,omitempty"`
	Ticks     []strokeView `json:"ticks,omitempty"` // of whole centimetres or inches
	Taken     string       `json:"taken,omitempty"`
}

func viewFrame(f calib.FrameResult) frameView {
	v := frameView{File: f.Name, Status: string(f.Status), Outlier: f.Fit.Outlier, Corrected: f.Corrected,
		Width: f.Width, Height: f.Height}
	v.Value, v.Note = summary.FrameWords(f)
	if f.Status != ruler.StatusRead {
		v.Code, v.Reason, v.Todo, v.Note = f.Reason.Code, f.Reason.Text, summary.FrameRemedy(f.Reason.Code), ""
	} else {
		v.Condition = phrase.ConditionOf(f.Conditions).Name()
	}
	if !f.Taken.IsZero() {
		v.Taken = f.Taken.Format("15:04:05")
	}
	m := annotate.MarksOf(f, 26, 0)
	if m.Front != nil {
		s := strokeOf(m.Front.A, m.Front.B)
		v.Front = &s
	}
	if m.Second != nil {
		s := strokeOf(m.Second.A, m.Second.B)
		v.Twin = &s
	}
	for _, t := range m.Graduations {
		if t.Whole {
			v.Ticks = append(v.Ticks, strokeOf(t.A, t.B))
		}
	}
	return v
}

// state is what changed since a revision, all of it since 0.
func (r *session) state(since int) state {
	r.mu.Lock()
	defer r.mu.Unlock()
	s := state{Run: r.name, Rev: r.rev, Whole: since <= 0 || since > r.rev, Rig: r.run.Rig,
		Method: string(r.run.Method), Travel: string(r.run.Travel),
		Note: r.memory.Note(), Settled: r.settled, ResultAt: r.resultAt, Setting: formOf(r.setting, r.goal),
		Trail: append([]trailPoint{}, r.trail...), Waiting: append([]string{}, r.waiting...),
		Warnings: []record.WarningEntry{}, Frames: []frameView{}, Gone: []string{}, Answer: []phrase.Line{}}
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
	slices.SortFunc(s.Frames, func(a, b frameView) int { return frame.CompareNames(a.File, b.File) })
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
func (r *session) tell(s *state) {
	if err := r.fatal; err != nil {
		p := problemOf(err)
		s.Problem = &p
	} else if r.err != nil && len(r.frames) > 0 {
		p := problemOf(r.err)
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
		t := strokeOf(trip.Line.A, trip.Line.B)
		s.Trip, s.TripName = &t, trip.Name
	}
	s.Accept = r.acceptable()
}

// acceptable says whether the result could join the rig's history.
func (r *session) acceptable() acceptView {
	if err := rig.Acceptable(*r.result); err != nil {
		return acceptView{Why: problemOf(err).What}
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
func (r *session) firstStep() summary.NextStep {
	switch {
	case r.err != nil && len(r.frames) > 0:
		return summary.NextStep{Text: "Not enough yet", Why: "Shoot on; what is missing stands below."}
	case !r.settled:
		return summary.NextStep{Text: "Reading …"}
	case r.run.Method == "":
		return summary.NextStep{Text: "Say what is done here", Why: "run.toml cannot be read: " + problemOf(r.err).What}
	}
	if r.goal.U > 0 {
		run := r.run
		run.Goal = r.goal
		if p, err := calib.PlanFirst(run); err == nil {
			return summary.NextStep{Text: stageText(p), Why: p.Text}
		}
	}
	return summary.NextStep{Text: "Drop the ruler through the beam",
		Why: "From two heights at least, four times each: the lag and the place of the beam are told apart by that."}
}

func stageText(p design.Schedule) string {
	var parts []string
	for _, b := range p.Stage {
		parts = append(parts, b.Text)
	}
	return strings.Join(parts, "; ")
}

// runState answers with the state.
func (s *Server) runState(w http.ResponseWriter, r *http.Request) error {
	run, err := s.session(r.PathValue("run"))
	if err != nil {
		return err
	}
	since, err := strconv.Atoi(cmp.Or(r.URL.Query().Get("since"), "0"))
	if err != nil {
		return refused(http.StatusBadRequest, fmt.Sprintf("since is %q, not a number",
			r.URL.Query().Get("since")), "load the page again")
	}
	answer(w, http.StatusOK, run.state(since))
	return nil
}
