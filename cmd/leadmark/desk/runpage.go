package desk

import (
	"cmp"
	"fmt"
	"net/http"
	"net/url"
	"path/filepath"
	"strconv"

	"leadmark/calib/runfile"
	"leadmark/cmd/leadmark/desk/places"
	"leadmark/cmd/leadmark/desk/reply"
	"leadmark/cmd/leadmark/report/figure"
)

// homePage names the runs there are and says what to do first.
func (s *Server) homePage(w http.ResponseWriter, r *http.Request) error {
	all, err := s.places.List()
	if err != nil {
		return err
	}
	var rows []runRow
	shoots := 0
	for _, p := range all {
		if p.Kind == places.Run {
			rows = append(rows, s.runRow(p.Name))
		} else {
			shoots++
		}
	}
	s.pages.write(w, http.StatusOK, "home.html", view{Title: "Runs", Here: "runs", Token: s.guard.Token,
		Data: map[string]any{"Runs": rows, "Shoots": shoots, "Folder": s.places.Root, "Alone": s.places.Only != ""}})
	return nil
}

// runRow is one run in the list.
type runRow struct{ Name, Link, About, Trouble string }

func (s *Server) runRow(name string) runRow {
	row := runRow{Name: name, Link: "/run/" + url.PathEscape(name)}
	run, err := runfile.Load(filepath.Join(s.places.Root, name), runfile.Overrides{Coming: true})
	if err != nil {
		row.Trouble = reply.ProblemOf(err).What
		return row
	}
	row.About = map[runfile.Method]string{runfile.Drop: "ruler dropped", runfile.Push: "ruler pushed"}[run.Method]
	if run.Rig != "" {
		row.About += ", rig " + run.Rig
	}
	return row
}

// runPage is a run that is watched.
func (s *Server) runPage(w http.ResponseWriter, r *http.Request) error {
	name := r.PathValue("run")
	if _, err := s.run(name); err != nil {
		return err
	}
	s.pages.write(w, http.StatusOK, "run.html", view{Title: name, Here: "runs", Script: "run.js", Token: s.guard.Token,
		Data: map[string]any{"Name": name, "Link": "/run/" + url.PathEscape(name),
			"Folder": filepath.Join(s.places.Root, name)}})
	return nil
}

// framePage is one frame, large.
func (s *Server) framePage(w http.ResponseWriter, r *http.Request) error {
	name, file := r.PathValue("run"), r.PathValue("file")
	if _, err := s.run(name); err != nil {
		return err
	}
	if !places.PlainName(file) {
		return reply.NotFound("there is no such picture in this run")
	}
	s.pages.write(w, http.StatusOK, "frame.html", view{Title: file, Here: "runs", Script: "frame.js",
		Token: s.guard.Token,
		Data:  map[string]any{"Run": name, "Link": "/run/" + url.PathEscape(name), "File": file}})
	return nil
}

// runFigures answers with the report's figures of the run as it is now.
func (s *Server) runFigures(w http.ResponseWriter, r *http.Request) error {
	run, err := s.run(r.PathValue("run"))
	if err != nil {
		return err
	}
	result, _, failed := run.Result()
	var figures []figure.Figure
	if result != nil && failed == nil {
		figures = figure.Of(*result)
	}
	s.pages.write(w, http.StatusOK, "figures.html", view{Data: figures})
	return nil
}

// runState answers with the state.
func (s *Server) runState(w http.ResponseWriter, r *http.Request) error {
	run, err := s.run(r.PathValue("run"))
	if err != nil {
		return err
	}
	since, err := strconv.Atoi(cmp.Or(r.URL.Query().Get("since"), "0"))
	if err != nil {
		return reply.Refused(http.StatusBadRequest, fmt.Sprintf("since is %q, not a number",
			r.URL.Query().Get("since")), "load the page again")
	}
	reply.JSON(w, http.StatusOK, run.State(since))
	return nil
}
