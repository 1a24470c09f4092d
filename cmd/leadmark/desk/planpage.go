package desk

import (
	"fmt"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"leadmark/calib/input"
	"leadmark/calib/plan"
	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/subject"
	"leadmark/calib/rig"
	"leadmark/calib/store"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/cmd/leadmark/report/planprint"
)

// subjectEnd is how the files of subjects are called in the folder.
const subjectEnd = ".toml"

// plans are the last few plans by what was asked, so that answer and drawing are of one and the same.
type plans struct {
	mu   sync.Mutex
	all  map[string]plan.Plan
	last []string
}

const mostPlans = 8

// planOf plans what a page asks for, as leadmark plan does with the same values.
func (s *Server) planOf(r *http.Request) (plan.Plan, error) {
	s.plans.mu.Lock()
	defer s.plans.mu.Unlock() // one at a time: each takes both processors
	key := r.URL.Query().Encode()
	if p, ok := s.plans.all[key]; ok {
		return p, nil
	}
	if err := r.Context().Err(); err != nil {
		return plan.Plan{}, err // the page has asked for another meanwhile
	}
	req, err := s.planRequest(r)
	if err != nil {
		return plan.Plan{}, err
	}
	p, err := plan.Make(req)
	if err != nil {
		return p, err
	}
	if s.plans.all == nil {
		s.plans.all = map[string]plan.Plan{}
	}
	s.plans.all[key] = p
	if s.plans.last = append(s.plans.last, key); len(s.plans.last) > mostPlans {
		delete(s.plans.all, s.plans.last[0])
		s.plans.last = s.plans.last[1:]
	}
	return p, nil
}

func (s *Server) planRequest(r *http.Request) (plan.Request, error) {
	q := r.URL.Query()
	req := plan.Request{Options: plan.DefaultOptions()}
	values, err := subjectValues(q)
	if err != nil {
		return req, err
	}
	if req.Subject, err = s.subject(q.Get("subject"), q.Get("preset"), values); err != nil {
		return req, err
	}
	if err := planOptions(r, &req.Options); err != nil {
		return req, err
	}
	lag, err := number(r, "lag_ms")
	if err != nil {
		return req, err
	}
	spread, err := number(r, "spread_ms")
	if err != nil {
		return req, err
	}
	var assumed *predict.Law
	if lag != nil {
		sd := 0.0
		if spread != nil {
			sd = *spread
		}
		if !(*lag > 0 && *lag <= 60000 && sd >= 0 && sd <= 60000) {
			return req, refused(http.StatusUnprocessableEntity,
				"the lag must be above 0 ms and its spread not below 0", "52 and 0.8 are a beginning")
		}
		law := predict.AssumedLag(*lag*1e-3, sd*1e-3)
		assumed = &law
	}
	if name := q.Get("rig"); name != "" {
		if err := req.UseRig(s.o.Rigs, name, assumed, s.o.Now()); err != nil {
			return req, err
		}
		return req, setHeads(r, &req.Rig)
	}
	if assumed == nil {
		return req, refused(http.StatusUnprocessableEntity, "neither a rig nor a lag is chosen",
			"choose a calibrated rig, or assume a lag and its spread")
	}
	req.Lag = *assumed
	return req, nil
}

// subject is a file of the folder, a preset, or values alone.
func (s *Server) subject(file, preset string, values input.Overrides) (subject.Subject, error) {
	switch {
	case preset != "":
		return subject.LoadPreset(preset, values)
	case file == "":
		return subject.Load("", values)
	case !slices.Contains(s.subjects(), file):
		return subject.Subject{}, notFound("there is no subject of that name here")
	}
	if err := s.courseInside(file); err != nil {
		return subject.Subject{}, err
	}
	return subject.Load(filepath.Join(s.places.root, file), values)
}

// courseInside refuses a subject's file, by its path in the folder, that names a course outside it.
func (s *Server) courseInside(file string) error {
	text, err := input.ReadBounded(filepath.Join(s.places.root, file), 1<<20)
	if err != nil {
		return err
	}
	parsed, err := subject.Parse(filepath.Base(file), text, input.Overrides{})
	if err == nil && parsed.CourseFile != "" && !s.places.inside(filepath.Join(filepath.Dir(file), parsed.CourseFile)) {
		err = refused(http.StatusUnprocessableEntity, "the course lies outside the folder that is shown",
			"put it beside the subject's file")
	}
	return err
}

// subjects are the subjects' files in the folder.
func (s *Server) subjects() []string {
	if s.places.only != "" {
		return nil
	}
	entries, err := os.ReadDir(s.places.root)
	if err != nil {
		return nil
	}
	var names []string
	for _, e := range entries {
		if name := e.Name(); e.Type().IsRegular() && strings.HasSuffix(name, subjectEnd) &&
			!strings.HasPrefix(name, ".") && plainName(name) {
			names = append(names, name)
		}
	}
	return names
}

// subjectValues are the keys of subject.toml that a page states. A course would name a file, and
// stays out.
func subjectValues(q url.Values) (input.Overrides, error) {
	var o input.Overrides
	for _, k := range subject.Settings() {
		text := strings.TrimSpace(q.Get(k.Key))
		if text == "" {
			continue
		}
		if k.Key == "course" || len(text) > 200 {
			return o, refused(http.StatusUnprocessableEntity, k.Key+" cannot be given here",
				"write it in the subject's file")
		}
		o.Set(k.Key, text)
	}
	return o, nil
}

// planOptions are what a plan may be asked for besides.
func planOptions(r *http.Request, o *plan.Options) error {
	for _, v := range []struct {
		name  string
		scale float64
		to    *float64
	}{{"f_number", 1, &o.FNumber}, {"field_mm", 1e-3, &o.Field}, {"iso", 1, &o.ISO},
		{"probability", 1, &o.Probability}} {
		x, err := number(r, v.name)
		if err != nil {
			return err
		}
		if x != nil {
			*v.to = *x * v.scale
		}
	}
	for _, v := range []struct {
		name  string
		scale float64
		to    **float64
	}{{"delay_ms", 1e-3, &o.Delay}, {"moment_mm", 1e-3, &o.Moment}} {
		x, err := number(r, v.name)
		if err != nil {
			return err
		}
		if x != nil {
			y := *x * v.scale
			*v.to = &y
		}
	}
	return nil
}

// setHeads puts the heads where a page has them: power_1, distance_1_mm and on.
func setHeads(r *http.Request, p *rig.Profile) error {
	p.Flash = slices.Clone(p.Flash)
	for i := range p.Flash {
		if text := r.URL.Query().Get(fmt.Sprintf("power_%d", i+1)); text != "" {
			share, ok := rig.ParsePower(text)
			if !ok {
				return refused(http.StatusUnprocessableEntity, "the power of "+p.Flash[i].Name+" is not one",
					"write it as 1/64")
			}
			p.Flash[i].Power = share
		}
		d, err := number(r, fmt.Sprintf("distance_%d_mm", i+1))
		if err != nil {
			return err
		}
		if d != nil {
			if !(*d > 0 && *d < 1e5) {
				return refused(http.StatusUnprocessableEntity,
					"the distance of "+p.Flash[i].Name+" must be above 0 mm", "check the value and its unit")
			}
			p.Flash[i].Distance = *d * 1e-3
		}
	}
	return nil
}

// planned is a plan as the page shows it.
type planned struct {
	Head     phrase.Headline     `json:"head"`
	Settings string              `json:"settings"`
	Sections []planprint.Section `json:"sections"`
	Document plan.Document       `json:"plan"`
}

// planAnswer plans and answers in words and numbers.
func (s *Server) planAnswer(w http.ResponseWriter, r *http.Request) error {
	p, err := s.planOf(r)
	if err != nil {
		return err
	}
	answer(w, http.StatusOK, planned{planprint.Head(p), planprint.Settings(p), planprint.Sections(p),
		plan.NewDocument(p)})
	return nil
}

// planSet draws the planned set to scale.
func (s *Server) planSet(w http.ResponseWriter, r *http.Request) error {
	p, err := s.planOf(r)
	if err != nil {
		return err
	}
	svg, err := planprint.SVG(p)
	if err != nil {
		return err
	}
	// a drawing with its own style, and nothing else
	w.Header().Set("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'")
	w.Header().Set("Content-Type", "image/svg+xml")
	_, err = w.Write(svg)
	return err
}

// planPreset answers with the values of a preset or of a file of the folder, by their keys.
func (s *Server) planPreset(w http.ResponseWriter, r *http.Request) error {
	name := r.PathValue("name")
	file, preset := name, ""
	if slices.Contains(subject.Presets(), name) {
		file, preset = "", name
	}
	chosen, err := s.subject(file, preset, input.Overrides{})
	if err != nil {
		return err
	}
	values := map[string]string{}
	for _, k := range subject.Settings() {
		values[k.Key] = fieldText(k.Key, chosen.Value(k.Key))
	}
	values["name"] = chosen.Name
	answer(w, http.StatusOK, map[string]any{"name": chosen.Name, "values": values, "sources": chosen.Sources})
	return nil
}

// fieldText is a value as a field of the form has it: without its unit.
func fieldText(key, text string) string {
	words := strings.Fields(text)
	switch {
	case key == "exit_mm" && len(words) == 4: // "10 x 8 mm"
		return "[" + words[0] + ", " + words[2] + "]"
	case len(words) == 2:
		return words[0]
	}
	return text
}

// saveSubject writes a subject's file to the folder, and never over another.
func (s *Server) saveSubject(w http.ResponseWriter, r *http.Request) error {
	var f struct {
		File   string            `json:"file"`
		Values map[string]string `json:"values"`
	}
	if err := decode(r, &f); err != nil {
		return err
	}
	name := strings.TrimSuffix(strings.TrimSpace(f.File), subjectEnd)
	if !newName(name) || s.places.only != "" {
		return refused(http.StatusUnprocessableEntity, "that cannot be the name of a file",
			"use letters, digits and dashes, such as mason-bee")
	}
	text, err := subjectText(f.Values)
	if err != nil {
		return err
	}
	if _, err := subject.Parse(name+subjectEnd, text, input.Overrides{}); err != nil {
		return err
	}
	made, err := store.Create(store.System(), filepath.Join(s.places.root, name+subjectEnd), text)
	switch {
	case err != nil:
		return err
	case !made:
		return refused(http.StatusConflict, name+subjectEnd+" is there already; nothing was changed",
			"choose another name")
	}
	answer(w, http.StatusOK, map[string]string{"file": name + subjectEnd, "done": "Saved as " + name + subjectEnd})
	return nil
}

// subjectText writes values as subject.toml.
func subjectText(values map[string]string) ([]byte, error) {
	var b strings.Builder
	for _, k := range subject.Settings() {
		text := strings.TrimSpace(values[k.Key])
		if text == "" || k.Key == "course" {
			continue
		}
		if _, err := input.ParseNumber(text); err != nil && !strings.HasPrefix(text, "[") {
			if strings.ContainsAny(text, "\"\\\r\n") || len(text) > 200 {
				return nil, refused(http.StatusUnprocessableEntity, k.Key+" cannot be written", "use plain letters")
			}
			text = `"` + text + `"`
		}
		fmt.Fprintf(&b, "%s = %s\n", k.Key, text)
	}
	return []byte(b.String()), nil
}

// planPage is the form and the drawn set.
func (s *Server) planPage(w http.ResponseWriter, r *http.Request) error {
	names, err := s.o.Rigs.List()
	if err != nil {
		return err
	}
	rigs := []planRig{}
	for _, n := range names {
		rigs = append(rigs, s.planRig(n))
	}
	s.pages.write(w, http.StatusOK, "plan.html", view{Title: "Plan", Here: "plan", Script: "plan.js", Token: s.token,
		Data: map[string]any{"Rigs": rigs, "Presets": subject.Presets(), "Subjects": s.subjects(),
			"Keys": subject.Settings()}})
	return nil
}

// planRig is a rig that can be planned with, and its heads.
type planRig struct {
	Name  string
	Ready bool // it is calibrated
	Heads []planHead
}

type planHead struct {
	Name, Power string
	DistanceMM  float64
}

func (s *Server) planRig(name string) planRig {
	out := planRig{Name: name, Heads: []planHead{}}
	if h, err := s.o.Rigs.History(name); err == nil {
		_, out.Ready = h.InForce()
	}
	if p, err := s.o.Rigs.Load(name); err == nil {
		for _, h := range p.Flash {
			head := planHead{Name: h.Name, DistanceMM: h.Distance * 1e3}
			if h.Power > 0 {
				head.Power = rig.PowerText(h.Power)
			}
			out.Heads = append(out.Heads, head)
		}
	}
	return out
}
