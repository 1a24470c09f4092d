package desk

import (
	"net/http"
	"path/filepath"
	"slices"
	"strings"

	"leadmark/calib/input"
	"leadmark/calib/plan"
	"leadmark/calib/plan/subject"
	"leadmark/calib/rig"
	"leadmark/calib/store"
	"leadmark/cmd/leadmark/desk/places"
	"leadmark/cmd/leadmark/desk/planform"
	"leadmark/cmd/leadmark/desk/reply"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/cmd/leadmark/report/planprint"
)

// planned is a plan as the page shows it.
type planned struct {
	Head     phrase.Headline     `json:"head"`
	Settings string              `json:"settings"`
	Sections []planprint.Section `json:"sections"`
	Document plan.Document       `json:"plan"`
}

// planAnswer plans and answers in words and numbers.
func (s *Server) planAnswer(w http.ResponseWriter, r *http.Request) error {
	p, err := s.plans.Plan(r)
	if err != nil {
		return err
	}
	reply.JSON(w, http.StatusOK, planned{planprint.Head(p), planprint.Settings(p), planprint.Sections(p),
		plan.NewDocument(p)})
	return nil
}

// planSet draws the planned set to scale.
func (s *Server) planSet(w http.ResponseWriter, r *http.Request) error {
	p, err := s.plans.Plan(r)
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
	chosen, err := s.plans.Subject(file, preset, input.Overrides{})
	if err != nil {
		return err
	}
	values := map[string]string{}
	for _, k := range subject.Settings() {
		values[k.Key] = planform.FieldText(k.Key, chosen.Value(k.Key))
	}
	values["name"] = chosen.Name
	reply.JSON(w, http.StatusOK, map[string]any{"name": chosen.Name, "values": values, "sources": chosen.Sources})
	return nil
}

// saveSubject writes a subject's file to the folder, and never over another.
func (s *Server) saveSubject(w http.ResponseWriter, r *http.Request) error {
	var f struct {
		File   string            `json:"file"`
		Values map[string]string `json:"values"`
	}
	if err := reply.Decode(r, &f); err != nil {
		return err
	}
	name := strings.TrimSuffix(strings.TrimSpace(f.File), planform.SubjectEnd)
	if !places.NewName(name) || s.places.Only != "" {
		return reply.Refused(http.StatusUnprocessableEntity, "that cannot be the name of a file",
			"use letters, digits and dashes, such as mason-bee")
	}
	text, err := planform.SubjectText(f.Values)
	if err != nil {
		return err
	}
	if _, err := subject.Parse(name+planform.SubjectEnd, text, input.Overrides{}); err != nil {
		return err
	}
	made, err := store.Create(store.System(), filepath.Join(s.places.Root, name+planform.SubjectEnd), text)
	switch {
	case err != nil:
		return err
	case !made:
		return reply.Refused(http.StatusConflict, name+planform.SubjectEnd+" is there already; nothing was changed",
			"choose another name")
	}
	file := name + planform.SubjectEnd
	reply.JSON(w, http.StatusOK, map[string]string{"file": file, "done": "Saved as " + file})
	return nil
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
	s.pages.write(w, http.StatusOK, "plan.html", view{Title: "Plan", Here: "plan", Script: "plan.js",
		Token: s.guard.Token,
		Data: map[string]any{"Rigs": rigs, "Presets": subject.Presets(), "Subjects": s.plans.Subjects(),
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
