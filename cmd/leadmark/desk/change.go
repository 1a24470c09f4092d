package desk

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"net/http"
	"strings"

	"leadmark/calib/runfile"
	"leadmark/vision/ruler"
)

// correction is what a page asks to be put right: of one frame, or the run's trip line.
type correction struct {
	File     string      `json:"file"`
	FrontPX  *[2]float64 `json:"front_px"`  // where the front end is
	RulerPX  *strokeView `json:"ruler_px"`  // along the graduations
	LeaveOut *string     `json:"leave_out"` // why
	TripPX   *strokeView `json:"trip_px"`
	TripUMM  float64     `json:"trip_u_mm"`
	Forget   string      `json:"forget"` // what is to be as the program found it: front, ruler, left_out or trip
}

// correct puts something right. The file is on the disk when it answers; the result follows as a
// new state.
func (s *Server) correct(w http.ResponseWriter, r *http.Request) error {
	run, err := s.session(r.PathValue("run"))
	if err != nil {
		return err
	}
	var c correction
	if err := decode(r, &c); err != nil {
		return err
	}
	var width, height int
	if c.File != "" {
		f, err := run.frame(c.File)
		if err != nil {
			return err
		}
		width, height = f.Width, f.Height
	}
	if err := c.check(width, height); err != nil {
		return err
	}
	run.edits.Lock()
	defer run.edits.Unlock()
	before, _, err := runfile.Correct(r.Context(), run.dir,
		func(old runfile.Corrections) (runfile.Corrections, error) { return c.apply(old), nil })
	if err != nil {
		return err
	}
	run.change(func() { run.undo = keepUndo(run.undo, undoStep{before, c.says()}) })
	run.again()
	answer(w, http.StatusOK, map[string]string{"undo": c.says()})
	return nil
}

// check says what is wrong with a correction; places must lie in the picture or close to it.
func (c correction) check(width, height int) error {
	var places []float64
	switch {
	case c.FrontPX != nil:
		places = append(places, c.FrontPX[:]...)
	case c.RulerPX != nil:
		places = append(places, c.RulerPX[:]...)
		if math.Hypot(c.RulerPX[2]-c.RulerPX[0], c.RulerPX[3]-c.RulerPX[1]) < 20 {
			return refused(http.StatusUnprocessableEntity, "the line along the ruler is too short",
				"draw it from one end of the graduations you see to the other")
		}
	case c.TripPX != nil:
		if !(c.TripUMM > 0 && c.TripUMM <= 1000) {
			return refused(http.StatusUnprocessableEntity, "how sure the trip line is must be above 0 mm",
				"half of how far it may be off will do")
		}
		if math.Hypot(c.TripPX[2]-c.TripPX[0], c.TripPX[3]-c.TripPX[1]) < 1 {
			return refused(http.StatusUnprocessableEntity, "the trip line is only a point", "draw it across the track")
		}
	case c.LeaveOut != nil:
		if len(*c.LeaveOut) > 300 {
			return refused(http.StatusUnprocessableEntity, "the reason is too long", "say it in a few words")
		}
	case c.Forget == "":
		return refused(http.StatusBadRequest, "nothing is to be changed", "load the page again")
	}
	if c.File == "" && c.TripPX == nil && c.Forget != "trip" {
		return refused(http.StatusBadRequest, "no frame is named", "load the page again")
	}
	for i, v := range places {
		most := float64([2]int{width, height}[i%2])
		if math.IsNaN(v) || v < -0.2*most || v > 1.2*most {
			return refused(http.StatusUnprocessableEntity, "that place is outside the picture",
				"place it on the picture")
		}
	}
	return nil
}

// apply puts it right among what was put right before.
func (c correction) apply(old runfile.Corrections) runfile.Corrections {
	f := old.Of(c.File)
	if f.FrontU == 0 {
		f.FrontU = runfile.HandU
	}
	switch {
	case c.FrontPX != nil:
		f.Front = &ruler.Point{X: tenth(c.FrontPX[0]), Y: tenth(c.FrontPX[1])}
	case c.RulerPX != nil:
		f.Ruler = lineOf(*c.RulerPX)
	case c.LeaveOut != nil:
		f.LeftOut = cmp.Or(strings.Join(strings.Fields(*c.LeaveOut), " "), "no reason given")
	case c.TripPX != nil:
		old.Trip = &runfile.TripCorrection{Line: *lineOf(*c.TripPX), U: c.TripUMM * 1e-3}
	case c.Forget == "trip":
		old.Trip = nil
	case c.Forget == runfile.CorrectedFront:
		f.Front = nil
	case c.Forget == runfile.CorrectedRuler:
		f.Ruler = nil
	case c.Forget == runfile.CorrectedLeftOut:
		f.LeftOut = ""
	}
	if c.File == "" {
		return old
	}
	return old.With(f)
}

func lineOf(s strokeView) *ruler.Line {
	return &ruler.Line{A: ruler.Point{X: tenth(s[0]), Y: tenth(s[1])}, B: ruler.Point{X: tenth(s[2]), Y: tenth(s[3])}}
}

// says is the change in words, as the button that takes it back names it.
func (c correction) says() string {
	switch {
	case c.FrontPX != nil:
		return "front end of " + c.File + " placed"
	case c.RulerPX != nil:
		return "ruler in " + c.File + " marked"
	case c.LeaveOut != nil:
		return c.File + " left out"
	case c.TripPX != nil:
		return "trip line placed"
	case c.Forget == "trip":
		return "own trip line dropped"
	}
	return "correction of " + c.File + " dropped"
}

const mostUndo = 200

func keepUndo(all []undoStep, u undoStep) []undoStep {
	if len(all) >= mostUndo {
		all = all[1:]
	}
	return append(all[:len(all):len(all)], u)
}

// undo takes the last change by hand back.
func (s *Server) undo(w http.ResponseWriter, r *http.Request) error {
	run, err := s.session(r.PathValue("run"))
	if err != nil {
		return err
	}
	var none struct{}
	if err := decode(r, &none); err != nil {
		return err
	}
	run.edits.Lock()
	defer run.edits.Unlock()
	run.mu.Lock()
	n := len(run.undo)
	if n == 0 {
		run.mu.Unlock()
		return refused(http.StatusConflict, "there is nothing to take back", "")
	}
	step := run.undo[n-1]
	run.mu.Unlock()
	if _, _, err := runfile.Correct(r.Context(), run.dir,
		func(runfile.Corrections) (runfile.Corrections, error) { return step.before, nil }); err != nil {
		return err
	}
	run.change(func() { run.undo = run.undo[:max(0, len(run.undo)-1)] })
	run.again()
	answer(w, http.StatusOK, map[string]string{"done": step.text + ": taken back"})
	return nil
}

// acceptForm asks that the result a page shows join the rig's history.
type acceptForm struct {
	ResultAt int    `json:"result_at"`
	Note     string `json:"note"`
}

// accept adds the result to the rig's history, if it is still the one that the page showed.
func (s *Server) accept(w http.ResponseWriter, r *http.Request) error {
	run, err := s.session(r.PathValue("run"))
	if err != nil {
		return err
	}
	var f acceptForm
	if err := decode(r, &f); err != nil {
		return err
	}
	run.mu.Lock()
	result, at, failed := run.result, run.resultAt, run.err
	run.mu.Unlock()
	switch {
	case result == nil || failed != nil:
		return refused(http.StatusConflict, "there is no result to accept", "shoot on until the lag is told")
	case at != f.ResultAt:
		return refused(http.StatusConflict, "the result has changed since the page showed it",
			"look at it again, then accept it")
	case len(f.Note) > 1000:
		return refused(http.StatusUnprocessableEntity, "the note is too long", "say it in a few words")
	}
	profile, err := s.o.Rigs.Load(result.Rig)
	if err != nil {
		return err
	}
	h, err := s.o.Rigs.History(result.Rig)
	if err != nil {
		return err
	}
	before, _ := h.InForce()
	added, err := s.o.Rigs.Accept(r.Context(), profile, *result, s.o.Now(), strings.Join(strings.Fields(f.Note), " "))
	if err != nil {
		return err
	}
	text := fmt.Sprintf("Accepted: calibration %d of %s", added.Before+1, result.Rig)
	if added.Again {
		text += "; a calibration of this very run was there already"
	}
	if added.Torn != "" {
		text += "; an unfinished last line, as a crash leaves it, was moved to " + added.Torn
	}
	answer(w, http.StatusOK, map[string]any{"done": text, "rig": result.Rig, "before": before.Number})
	return nil
}

// settingForm says how the next frames are shot, and what uncertainty of the lag is aimed at.
type settingForm struct {
	DropMM   *float64 `json:"drop_mm"`
	SpeedMPS *float64 `json:"speed_mps"`
	DelayMS  *float64 `json:"delay_ms"`
	Group    string   `json:"group"`
	GoalMS   *float64 `json:"goal_ms"`
	Also     []string `json:"also,omitempty"` // frames that are there and were shot so too
}

func formOf(c runfile.ShotCells, g runfile.Goal) settingForm {
	f := settingForm{DropMM: c.DropMM, SpeedMPS: c.SpeedMPS, DelayMS: c.DelayMS, Group: c.Group}
	if g.U > 0 {
		u := g.U * 1e3
		f.GoalMS = &u
	}
	return f
}

// setting keeps how the next frames are shot; each then gets its line in shots.csv when it comes.
func (s *Server) setting(w http.ResponseWriter, r *http.Request) error {
	run, err := s.session(r.PathValue("run"))
	if err != nil {
		return err
	}
	var f settingForm
	if err := decode(r, &f); err != nil {
		return err
	}
	cells := runfile.ShotCells{DropMM: f.DropMM, SpeedMPS: f.SpeedMPS, DelayMS: f.DelayMS, Group: f.Group}
	if err := errors.Join(inRange("the height", f.DropMM, 20000, "mm"),
		inRange("the speed", f.SpeedMPS, 300, "m/s"), notBelow("the delay", f.DelayMS, 60000, "ms"),
		inRange("the goal", f.GoalMS, 1e6, "ms")); err != nil {
		return err
	}
	for _, name := range f.Also {
		if _, err := run.frame(name); err != nil {
			return err
		}
	}
	if len(f.Also) > 0 && !cells.Empty() {
		run.mu.Lock()
		method := run.run.Method
		run.mu.Unlock()
		if _, err := runfile.AddShots(r.Context(), run.dir, method, f.Also, cells); err != nil {
			return err
		}
	}
	run.change(func() {
		run.setting, run.goal, run.known = cells, runfile.Goal{}, map[string]bool{}
		if f.GoalMS != nil {
			run.goal.U = *f.GoalMS * 1e-3
		}
		for name := range run.frames {
			run.known[name] = true
		}
	})
	run.again()
	answer(w, http.StatusOK, map[string]string{"done": "Noted for the next frames"})
	return nil
}

func inRange(what string, x *float64, most float64, unit string) error {
	if x != nil && !(*x > 0 && *x <= most) {
		return refused(http.StatusUnprocessableEntity,
			fmt.Sprintf("%s must be above 0 and at most %g %s", what, most, unit), "check the value and its unit")
	}
	return nil
}

func notBelow(what string, x *float64, most float64, unit string) error {
	if x != nil && !(*x >= 0 && *x <= most) {
		return refused(http.StatusUnprocessableEntity,
			fmt.Sprintf("%s must be from 0 to %g %s", what, most, unit), "check the value and its unit")
	}
	return nil
}
