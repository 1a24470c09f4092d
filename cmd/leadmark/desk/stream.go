package desk

import (
	"fmt"
	"net/http"
	"time"
)

// sleepless keeps a stream alive through proxies and sleeping pages.
const sleepless = 15 * time.Second

// runEvents tells a page, as server-sent events (WHATWG HTML, 9.2), that there is a new state; it
// fetches what changed itself, so that nothing piles up for a page that is slow.
func (s *Server) runEvents(w http.ResponseWriter, r *http.Request) error {
	run, err := s.run(r.PathValue("run"))
	if err != nil {
		return err
	}
	changed, leave, err := run.Stream()
	if err != nil {
		return err
	}
	defer leave()
	w.Header().Set("Content-Type", "text/event-stream")
	to := http.NewResponseController(w)
	_ = to.SetReadDeadline(time.Time{}) // a stream outlives the time that a request may take
	for {
		_ = to.SetWriteDeadline(time.Now().Add(answerTime))
		if _, err := fmt.Fprintf(w, "data: %d\n\n", run.Rev()); err != nil {
			return nil // the page has gone
		}
		if to.Flush() != nil {
			return nil
		}
		select {
		case <-r.Context().Done():
			return nil
		case <-s.ctx.Done():
			return nil
		case <-changed:
		case <-time.After(sleepless):
		}
	}
}
