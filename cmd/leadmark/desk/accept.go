package desk

import (
	"fmt"
	"net/http"
	"strings"

	"leadmark/cmd/leadmark/desk/reply"
)

// acceptForm asks that the result a page shows join the rig's history.
type acceptForm struct {
	ResultAt int    `json:"result_at"`
	Note     string `json:"note"`
}

// accept adds the result to the rig's history, if it is still the one that the page showed.
func (s *Server) accept(w http.ResponseWriter, r *http.Request) error {
	run, err := s.run(r.PathValue("run"))
	if err != nil {
		return err
	}
	var f acceptForm
	if err := reply.Decode(r, &f); err != nil {
		return err
	}
	result, at, failed := run.Result()
	switch {
	case result == nil || failed != nil:
		return reply.Refused(http.StatusConflict, "there is no result to accept", "shoot on until the lag is told")
	case at != f.ResultAt:
		return reply.Refused(http.StatusConflict, "the result has changed since the page showed it",
			"look at it again, then accept it")
	case len(f.Note) > 1000:
		return reply.Refused(http.StatusUnprocessableEntity, "the note is too long", "say it in a few words")
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
	reply.JSON(w, http.StatusOK, map[string]any{"done": text, "rig": result.Rig, "before": before.Number})
	return nil
}
