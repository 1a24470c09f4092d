package desk

import (
	"mime"
	"net/http"
	"path"
	"strings"

	"leadmark/cmd/leadmark/desk/reply"
)

// lookFile answers with the style sheet or a script.
func (s *Server) lookFile(w http.ResponseWriter, r *http.Request) error {
	name := r.PathValue("file")
	text, err := pageFiles.ReadFile("page/" + name)
	ext := path.Ext(name)
	if name == "desk.css" {
		text = append(text, s.pages.figures...)
	}
	if err != nil || ext != ".css" && ext != ".js" && ext != ".svg" {
		return reply.NotFound("there is no such part of the page")
	}
	w.Header().Set("Content-Type", mime.TypeByExtension(ext))
	if ext == ".js" {
		w.Header().Set("Content-Type", "text/javascript; charset=utf-8")
	}
	_, err = w.Write(text)
	return err
}

// refuse answers with what is wrong and what to do, as JSON where a script asked.
func (s *Server) refuse(w http.ResponseWriter, r *http.Request, err error) {
	code, p := reply.Code(err), reply.ProblemOf(err)
	if r.Method == http.MethodPost || !strings.Contains(r.Header.Get("Accept"), "text/html") {
		reply.JSON(w, code, p)
		return
	}
	s.pages.write(w, code, "problem.html", view{Title: "That did not work", Token: s.guard.Token, Data: p})
}
