package desk

import (
	"net/http"

	"leadmark/cmd/leadmark/desk/reply"
)

// correct puts something right. The file is on the disk when it answers; the result follows as a
// new state.
func (s *Server) correct(w http.ResponseWriter, r *http.Request) error {
	run, err := s.run(r.PathValue("run"))
	if err != nil {
		return err
	}
	var c correction
	if err := reply.Decode(r, &c); err != nil {
		return err
	}
	var width, height int
	if c.File != "" {
		f, err := run.Frame(c.File)
		if err != nil {
			return err
		}
		width, height = f.Width, f.Height
	}
	if err := c.check(width, height); err != nil {
		return err
	}
	if err := run.Correct(r.Context(), c.says(), c.apply); err != nil {
		return err
	}
	reply.JSON(w, http.StatusOK, map[string]string{"undo": c.says()})
	return nil
}

// undo takes the last change by hand back.
func (s *Server) undo(w http.ResponseWriter, r *http.Request) error {
	run, err := s.run(r.PathValue("run"))
	if err != nil {
		return err
	}
	var none struct{}
	if err := reply.Decode(r, &none); err != nil {
		return err
	}
	says, err := run.Undo(r.Context())
	if err != nil {
		return err
	}
	reply.JSON(w, http.StatusOK, map[string]string{"done": says + ": taken back"})
	return nil
}
