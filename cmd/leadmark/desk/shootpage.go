package desk

import (
	"encoding/json"
	"net/http"
	"net/url"
	"os"
	"path/filepath"

	"leadmark/calib/input"
	"leadmark/calib/plan"
	"leadmark/calib/plan/subject"
	"leadmark/calib/runfile"
	"leadmark/calib/shoot"
	"leadmark/cmd/leadmark/desk/live"
	"leadmark/cmd/leadmark/desk/places"
	"leadmark/cmd/leadmark/desk/reply"
	"leadmark/cmd/leadmark/report"
	"leadmark/vision/frame"
)

// checkEnd is how the folder is called in which leadmark check leaves its result.
const checkEnd = "-check"

// mostShoot bounds the shoot.json that is read.
const mostShoot = 64 << 20

// shootsPage names the shoots there are.
func (s *Server) shootsPage(w http.ResponseWriter, r *http.Request) error {
	all, err := s.places.List()
	if err != nil {
		return err
	}
	var rows []shootRow
	for _, p := range all {
		if p.Kind == places.Shoot {
			rows = append(rows, shootRow{p.Name, "/shoot/" + url.PathEscape(p.Name),
				places.Has(filepath.Join(s.places.Root, p.Name+checkEnd), report.ShootFile)})
		}
	}
	s.pages.write(w, http.StatusOK, "shoots.html",
		view{Title: "Shoots", Here: "shoots", Token: s.guard.Token,
			Data: map[string]any{"Shoots": rows, "Folder": s.places.Root}})
	return nil
}

type shootRow struct {
	Name, Link string
	Checked    bool
}

// shootPage is the contact sheet of one shoot.
func (s *Server) shootPage(w http.ResponseWriter, r *http.Request) error {
	name := r.PathValue("shoot")
	dir, err := s.places.Find(places.Shoot, name)
	if err != nil {
		return err
	}
	s.pages.write(w, http.StatusOK, "shoot.html", view{Title: name, Here: "shoots", Script: "shoot.js",
		Token: s.guard.Token,
		Data: map[string]any{"Name": name, "Link": "/shoot/" + url.PathEscape(name),
			"Checked": places.Has(dir+checkEnd, report.ShootFile)}})
	return nil
}

// shootView is a shoot on its page: what leadmark check found, and where the plan has the reach.
type shootView struct {
	Document shoot.Document `json:"shoot"`
	Reach    *reachView     `json:"reach,omitempty"`
	NoReach  string         `json:"no_reach,omitempty"` // why it is not drawn
}

// reachView is the reach in a picture: two lines across the travel, and the trip line. The
// subject's speed as it was planned stands beside it.
type reachView struct {
	Trip     live.Stroke `json:"trip"`
	From     live.Stroke `json:"from"`
	To       live.Stroke `json:"to"`
	SpeedMPS float64     `json:"planned_speed_mps"`
	SpeedSD  float64     `json:"planned_speed_sd_mps"`
}

// shootState answers with the result of the last leadmark check.
func (s *Server) shootState(w http.ResponseWriter, r *http.Request) error {
	dir, err := s.places.Find(places.Shoot, r.PathValue("shoot"))
	if err != nil {
		return err
	}
	v, err := s.shootView(dir)
	if err != nil {
		return err
	}
	reply.JSON(w, http.StatusOK, v)
	return nil
}

func (s *Server) shootView(dir string) (shootView, error) {
	var v shootView
	text, err := s.checked(dir)
	if err != nil {
		return v, err
	}
	if err := json.Unmarshal(text, &v.Document); err != nil {
		return v, reply.Refused(http.StatusUnprocessableEntity, "shoot.json cannot be read", "run leadmark check again")
	}
	if v.Reach, err = s.reach(dir); err != nil {
		v.NoReach = reply.ProblemOf(err).What
	}
	return v, nil
}

// checked reads shoot.json of the folder beside a shoot.
func (s *Server) checked(dir string) ([]byte, error) {
	rel := filepath.Base(dir) + checkEnd
	if !s.places.Inside(rel) || !s.places.Inside(filepath.Join(rel, report.ShootFile)) {
		return nil, reply.NotFound("this shoot has not been checked yet")
	}
	text, err := input.ReadBounded(filepath.Join(s.places.Root, rel, report.ShootFile), mostShoot)
	if err != nil || !shoot.IsDocument(text) {
		return nil, reply.Refused(http.StatusNotFound, "this shoot has not been checked yet",
			"run: leadmark check "+filepath.Base(dir))
	}
	return text, nil
}

// reach plans the shoot anew, from rig and subject as they are now, and lays the reach into the
// picture.
func (s *Server) reach(dir string) (*reachView, error) {
	set, err := shoot.Load(dir)
	if err != nil {
		return nil, err
	}
	rel, err := filepath.Rel(s.places.Root, set.Subject)
	if err != nil || !s.places.Inside(rel) {
		return nil, reply.NotFound("the subject's file is not in the folder that is shown")
	}
	if err := s.plans.CourseInside(rel); err != nil {
		return nil, err
	}
	req := plan.Request{Options: plan.DefaultOptions()}
	if req.Subject, err = subject.Load(set.Subject, input.Overrides{}); err != nil {
		return nil, err
	}
	if err := req.UseRig(s.o.Rigs, set.Rig, nil, s.o.Now()); err != nil {
		return nil, err
	}
	p, err := plan.Make(req)
	if err != nil {
		return nil, err
	}
	at := func(along float64) live.Stroke {
		dx, dy := set.Travel[0]*along*set.Scale, set.Travel[1]*along*set.Scale
		return live.Stroke{live.Tenth(set.TripLine[0][0] + dx), live.Tenth(set.TripLine[0][1] + dy),
			live.Tenth(set.TripLine[1][0] + dx), live.Tenth(set.TripLine[1][1] + dy)}
	}
	return &reachView{at(0), at(p.Reach.Along[0]), at(p.Reach.Along[1]), req.Subject.Speed, req.Subject.SpeedSD}, nil
}

// shootPicture answers with a frame of a shoot.
func (s *Server) shootPicture(w http.ResponseWriter, r *http.Request) error {
	dir, err := s.places.Find(places.Shoot, r.PathValue("shoot"))
	if err != nil {
		return err
	}
	name := r.PathValue("file")
	f := frame.Frame{Name: name, Path: filepath.Join(dir, name)}
	if _, err := os.Lstat(f.Path); err != nil || !places.PlainName(name) || name == runfile.RunFileName {
		return reply.NotFound("there is no such picture in this shoot")
	}
	return s.show(w, r, dir, f)
}
