package desk

import (
	"net/http"
)

// routes are all that can be asked for.
func (s *Server) routes() http.Handler {
	m := http.NewServeMux()
	page := func(pattern string, do func(w http.ResponseWriter, r *http.Request) error) {
		m.HandleFunc(pattern, func(w http.ResponseWriter, r *http.Request) {
			if err := do(w, r); err != nil {
				s.refuse(w, r, err)
			}
		})
	}
	page("GET /{$}", s.homePage)
	page("GET /look/{file}", s.lookFile)
	page("GET /run/{run}", s.runPage)
	page("GET /run/{run}/frame/{file}", s.framePage)
	page("GET /run/{run}/state", s.runState)
	page("GET /run/{run}/events", s.runEvents)
	page("GET /run/{run}/figures", s.runFigures)
	page("GET /run/{run}/clip/{file}", s.clip)
	page("GET /run/{run}/picture/{file}", s.picture)
	page("GET /run/{run}/marks/{file}", s.marks)
	page("POST /run/{run}/correct", s.correct)
	page("POST /run/{run}/undo", s.undo)
	page("POST /run/{run}/accept", s.accept)
	page("POST /run/{run}/setting", s.setting)
	page("GET /start", s.startPage)
	page("POST /start", s.start)
	page("GET /rigs", s.rigsPage)
	page("POST /rigs", s.newRig)
	page("GET /rig/{rig}", s.rigPage)
	page("GET /rig/{rig}/compare", s.compareRig)
	page("POST /rig/{rig}/restore", s.restoreRig)
	page("GET /plan", s.planPage)
	page("GET /plan/answer", s.planAnswer)
	page("GET /plan/set.svg", s.planSet)
	page("GET /plan/preset/{name}", s.planPreset)
	page("POST /plan/save", s.saveSubject)
	page("GET /shoots", s.shootsPage)
	page("GET /shoot/{shoot}", s.shootPage)
	page("GET /shoot/{shoot}/state", s.shootState)
	page("GET /shoot/{shoot}/picture/{file}", s.shootPicture)
	return m
}
