package desk

import (
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"leadmark/calib/rig"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/desk/reply"
	"leadmark/cmd/leadmark/report/figure"
	"leadmark/cmd/leadmark/report/phrase"
)

// rigsPage names the rigs there are.
func (s *Server) rigsPage(w http.ResponseWriter, r *http.Request) error {
	names, err := s.o.Rigs.List()
	if err != nil {
		return err
	}
	var rows []rigRow
	for _, n := range names {
		rows = append(rows, s.rigRow(n))
	}
	s.pages.write(w, http.StatusOK, "rigs.html", view{Title: "Rigs", Here: "rigs", Script: "rigs.js",
		Token: s.guard.Token, Data: map[string]any{"Rigs": rows, "Folder": s.o.Rigs.Root}})
	return nil
}

// rigRow is one rig in a list.
type rigRow struct{ Name, Link, Lag, When, Why, Trouble string }

func (s *Server) rigRow(name string) rigRow {
	row := rigRow{Name: name, Link: "/rig/" + url.PathEscape(name)}
	h, err := s.o.Rigs.History(name)
	if err != nil {
		row.Trouble = reply.ProblemOf(err).What
		return row
	}
	f, ok := h.InForce()
	if !ok {
		row.Why = "not calibrated yet"
		return row
	}
	row.When, row.Why = f.Entry.Accepted.Format("2 January 2006 15:04"), f.Why()
	if l := f.Entry.Lag; l != nil {
		row.Lag = phrase.Lag(l.Estimate())
	}
	return row
}

// newRig makes a profile to fill in.
func (s *Server) newRig(w http.ResponseWriter, r *http.Request) error {
	var f struct {
		Name string `json:"name"`
	}
	if err := reply.Decode(r, &f); err != nil {
		return err
	}
	path, err := s.o.Rigs.New(strings.TrimSpace(f.Name))
	if err != nil {
		return err
	}
	reply.JSON(w, http.StatusOK, map[string]string{"link": "/rig/" + url.PathEscape(strings.TrimSpace(f.Name)),
		"done": "Made " + path})
	return nil
}

// rigView is a rig on its page.
type rigView struct {
	Name, Dir  string
	Rows       [][2]string
	Trouble    *reply.Problem // its description cannot be read
	Lag, Force string
	Old        string
	Charts     []chartView
	Entries    []entryView // the newest first
	Restores   []string
	Damaged    []string
	Comparable bool
}

type chartView struct {
	Setup, Text string
	Figures     []figure.Figure
}

type entryView struct {
	Number                                      int
	Accepted, Lag, Spread, Frames, Note, ByHand string
	InForce                                     bool
}

// history is that of the rig that a request names.
func (s *Server) history(r *http.Request) (name string, h rig.History, err error) {
	name = r.PathValue("rig")
	if rig.CheckName(name) != nil || !s.o.Rigs.Has(name) {
		return name, h, reply.NotFound("there is no rig of that name")
	}
	h, err = s.o.Rigs.History(name)
	return name, h, err
}

// rigPage shows a rig: what holds, the control charts, every calibration, its description.
func (s *Server) rigPage(w http.ResponseWriter, r *http.Request) error {
	name, h, err := s.history(r)
	if err != nil {
		return err
	}
	v := rigView{Name: name, Dir: s.o.Rigs.Dir(name), Comparable: len(h.Entries) > 1}
	profile, err := s.o.Rigs.Load(name)
	if err != nil {
		p := reply.ProblemOf(err)
		v.Trouble = &p
	}
	v.Rows = profile.Rows()
	s.fill(&v, profile, h)
	s.pages.write(w, http.StatusOK, "rig.html", view{Title: name, Here: "rigs", Script: "rig.js", Token: s.guard.Token,
		Data: v})
	return nil
}

func (s *Server) fill(v *rigView, profile rig.Profile, h rig.History) {
	force, ok := h.InForce()
	if ok {
		v.Force, v.Lag = fmt.Sprintf("number %d, %s", force.Number, force.Why()), "not told"
		if l := force.Entry.Lag; l != nil {
			v.Lag = phrase.Lag(l.Estimate())
		}
		if _, due := profile.Age(force.Entry, s.o.Now()); due {
			v.Old = "It is older than recalibrate_days allows: calibrate anew."
		}
	}
	for _, c := range h.Charts() {
		v.Charts = append(v.Charts, chartView{c.Setup.String(), words.Sentence(c.Note), figure.OfChart(c)})
	}
	for i := len(h.Entries) - 1; i >= 0; i-- {
		e := h.Entries[i]
		row := entryView{Number: i + 1, Accepted: e.Accepted.Format("2 January 2006 15:04"), Lag: "not told",
			Spread: "not told", Note: e.Note, InForce: ok && force.Number == i+1}
		if e.Lag != nil {
			row.Lag = phrase.Lag(e.Lag.Estimate())
		}
		if e.Spread != nil {
			row.Spread = phrase.Spread(e.Spread.Estimate())
		}
		if e.ByHand != nil {
			row.ByHand = "with corrections by hand"
		}
		v.Entries = append(v.Entries, row)
	}
	for _, x := range h.Restores {
		v.Restores = append(v.Restores, x.String())
	}
	for _, d := range h.Damaged {
		v.Damaged = append(v.Damaged, "line "+strconv.Itoa(d.Line)+": "+d.What)
	}
}

// compareRig holds two calibrations against each other, as leadmark rig compare does.
func (s *Server) compareRig(w http.ResponseWriter, r *http.Request) error {
	name, h, err := s.history(r)
	if err != nil {
		return err
	}
	a, err := h.Find(r.URL.Query().Get("a"))
	if err != nil {
		return err
	}
	b, err := h.Find(r.URL.Query().Get("b"))
	if err != nil {
		return err
	}
	margin, err := reply.Number(r, "margin_ms")
	if err != nil {
		return err
	}
	o := rig.CompareOptions{}
	if margin != nil {
		if !(*margin >= 0 && *margin < 1e6) {
			return reply.Refused(http.StatusUnprocessableEntity, "the margin must be a time, not below 0",
				"give it in milliseconds")
		}
		o.Margin = *margin * 1e-3
	}
	if a.Number == b.Number {
		return reply.Refused(http.StatusUnprocessableEntity, "both are the same calibration", "choose two")
	}
	c, err := rig.Compare(a, b, o)
	if err != nil {
		return err
	}
	reply.JSON(w, http.StatusOK, rig.NewComparisonDocument(name, c))
	return nil
}

// restoreRig puts an earlier calibration back in force.
func (s *Server) restoreRig(w http.ResponseWriter, r *http.Request) error {
	name, h, err := s.history(r)
	if err != nil {
		return err
	}
	var f struct {
		Number int    `json:"number"`
		Note   string `json:"note"`
	}
	if err := reply.Decode(r, &f); err != nil {
		return err
	}
	if len(f.Note) > 1000 {
		return reply.Refused(http.StatusUnprocessableEntity, "the note is too long", "say it in a few words")
	}
	before, _ := h.InForce()
	if _, err := s.o.Rigs.Restore(r.Context(), name, f.Number, s.o.Now(),
		strings.Join(strings.Fields(f.Note), " ")); err != nil {
		return err
	}
	reply.JSON(w, http.StatusOK, map[string]any{"done": "Calibration " + strconv.Itoa(f.Number) + " is in force",
		"before": before.Number})
	return nil
}
