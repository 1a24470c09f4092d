package desk

import (
	"net/http"
	"path/filepath"
	"strings"

	"leadmark/calib"
	"leadmark/calib/runfile"
	"leadmark/calib/store"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/desk/places"
	"leadmark/cmd/leadmark/desk/reply"
	"leadmark/vision/frame"
)

// startForm describes a run that is to be begun, in the units of run.toml.
type startForm struct {
	Name   string            `json:"name"`
	Values map[string]string `json:"values"` // keys of run.toml, as runfile.Settings lists them
	GoalMS float64           `json:"goal_ms"`
	Write  bool              `json:"write"` // make the folder and its files; else only say what would come
}

// started is what came of it.
type started struct {
	Link    string   `json:"link,omitempty"` // the run's page
	Written []string `json:"written,omitempty"`
	ToFill  []string `json:"to_fill"`
	Plan    string   `json:"plan,omitempty"`    // in words
	Batches []string `json:"batches,omitempty"` // what to shoot, a line each
	Shots   int      `json:"shots,omitempty"`
}

// start says what is still unknown of a run and plans its heights and numbers for a goal, by
// calib's own start; with write it makes the folder, run.toml and shots.csv, and never writes over
// what is there.
func (s *Server) start(w http.ResponseWriter, r *http.Request) error {
	var f startForm
	if err := reply.Decode(r, &f); err != nil {
		return err
	}
	var o runfile.Overrides
	known := map[string]bool{}
	for _, k := range runfile.Settings() {
		known[k.Key] = true
	}
	for key, text := range f.Values {
		if !known[key] {
			return reply.Refused(http.StatusBadRequest, key+" is no key of run.toml", "load the page again")
		}
		if len(text) > 500 {
			return reply.Refused(http.StatusUnprocessableEntity, key+" is too long", "give a single value")
		}
		if text = strings.TrimSpace(text); text != "" {
			o.Set(key, text)
		}
	}
	run, err := runfile.Sketch(filepath.Join(s.places.Root, "new"), o)
	if err != nil {
		return err
	}
	a := started{ToFill: toFill(o)}
	var plan runfile.Known
	if f.GoalMS != 0 {
		if !(f.GoalMS > 0 && f.GoalMS < 1e6) {
			return reply.Refused(http.StatusUnprocessableEntity, "the goal must be above 0 ms",
				"0.2 is a good beginning")
		}
		if p, err := s.o.Rigs.Load(run.Rig); err == nil {
			run.Limits, run.Earlier = p.Limits.OfRun(), s.o.Rigs.Earlier(run.Rig)
		}
		run.Goal = runfile.Goal{U: f.GoalMS * 1e-3}
		schedule, err := calib.PlanFirst(run)
		if err != nil {
			return err
		}
		plan.Plan = &schedule
		a.Plan, a.Shots = words.Schedule(schedule), schedule.Shots
		for _, b := range schedule.Batches {
			a.Batches = append(a.Batches, words.Batch(b))
		}
	}
	if f.Write {
		if err := s.make(r, f.Name, plan, o, &a); err != nil {
			return err
		}
	}
	reply.JSON(w, http.StatusOK, a)
	return nil
}

// make makes the run's folder and files.
func (s *Server) make(r *http.Request, name string, known runfile.Known, o runfile.Overrides, a *started) error {
	name = strings.TrimSpace(name)
	if !places.NewName(name) {
		return reply.Refused(http.StatusUnprocessableEntity, "the name of the run cannot be a folder's",
			"use letters, digits, blanks and dashes, such as night1")
	}
	if s.places.Only != "" && name != s.places.Only {
		return reply.Refused(http.StatusUnprocessableEntity, "the desk was opened for one folder alone",
			"start it with the folder that holds your runs: leadmark desk FOLDER")
	}
	dir := filepath.Join(s.places.Root, name)
	if err := store.MakeFolder(dir); err != nil {
		return reply.Refused(http.StatusUnprocessableEntity, "the folder "+name+" cannot be made",
			"check that the disk can be written")
	}
	if !s.places.Inside(name) {
		return reply.Refused(http.StatusUnprocessableEntity, "a link of that name leads elsewhere",
			"choose another name")
	}
	frames, _, err := frame.List(r.Context(), dir)
	if err != nil {
		return err
	}
	report, err := runfile.Start(dir, frames, known, o)
	if err != nil {
		return err
	}
	a.Written, a.ToFill, a.Link = report.Written, report.ToFill, s.places.Link(name)
	return nil
}

// toFill is what a run's description still lacks, in the page's words.
func toFill(o runfile.Overrides) []string {
	list := []string{}
	need := func(key, what string) {
		if _, given := o.Value(key); !given {
			list = append(list, what)
		}
	}
	need("method", "whether the ruler is dropped or pushed")
	need("travel", "which way the front end moves in the picture")
	need("rig", "which rig this is, so that the result can be accepted")
	need("ruler.graduation_mm", "the ruler's finest graduation: else it is taken as found")
	if method, _ := o.Value("method"); method == string(runfile.Push) {
		need("conditions.speed_mps", "the speed, or a group of pushes at one repeatable speed")
	} else {
		need("conditions.drop_mm", "the height of each drop: say it on the run's page while you shoot")
		need("conditions.u_drop_mm", "how well a height is known, mm")
	}
	return list
}

// startPage is the form.
func (s *Server) startPage(w http.ResponseWriter, r *http.Request) error {
	names, err := s.o.Rigs.List()
	if err != nil {
		return err
	}
	s.pages.write(w, http.StatusOK, "start.html", view{Title: "Begin a run", Here: "runs", Script: "start.js",
		Token: s.guard.Token, Data: map[string]any{"Rigs": names, "Folder": s.places.Root}})
	return nil
}
