package desk

import (
	"crypto/subtle"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime"
	"net"
	"net/http"
	"os"
	"slices"
	"strings"
	"time"

	"leadmark/calib/input"
	"leadmark/calib/record"
)

// tokenHeader carries the token of a request that changes something. A page of another origin can
// neither read the token nor set a header of its own without asking first, which nobody answers.
const tokenHeader = "X-Leadmark-Token"

// keyCookie carries the key that other machines need.
const keyCookie = "leadmark_key"

// policy lets a page load what this server embeds and nothing else: no script or style in the
// markup, no frame around it, no form to elsewhere (W3C Content Security Policy level 3).
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; " +
	"form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// status is an error with the HTTP status it is answered with.
type status struct {
	code int
	err  error
}

func (s status) Error() string { return s.err.Error() }
func (s status) Unwrap() error { return s.err }

func refused(code int, what, hint string) error {
	return status{code, &input.Error{What: what, Hint: hint}}
}

func notFound(what string) error {
	return refused(http.StatusNotFound, what, "go back to the first page and choose from what is there")
}

// guard stands before everything: it turns away whoever is not a page of this server.
func (s *Server) guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		head := w.Header()
		head.Set("Content-Security-Policy", policy)
		head.Set("X-Content-Type-Options", "nosniff")
		head.Set("X-Frame-Options", "DENY")
		head.Set("Referrer-Policy", "no-referrer")
		head.Set("Cross-Origin-Opener-Policy", "same-origin")
		head.Set("Cross-Origin-Resource-Policy", "same-origin")
		head.Set("Permissions-Policy", "camera=(), microphone=(), geolocation=()")
		head.Set("Cache-Control", "no-store")
		if err := s.welcome(w, r); err != nil {
			head.Set("Connection", "close")
			s.refuse(w, r, err)
			return
		}
		if s.o.Remote && r.URL.Query().Has("key") { // the key does not stay in the address
			http.Redirect(w, r, r.URL.Path, http.StatusSeeOther)
			return
		}
		_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(answerTime))
		next.ServeHTTP(w, r)
	})
}

// welcome says why a request is turned away, nil for one that is not.
func (s *Server) welcome(w http.ResponseWriter, r *http.Request) error {
	switch {
	case !s.isHost(r.Host):
		return refused(http.StatusMisdirectedRequest, "this address is not the desk's",
			"open the address that leadmark desk printed")
	case r.Header.Get("Origin") != "" && r.Header.Get("Origin") != "http://"+r.Host:
		return refused(http.StatusForbidden, "a page from elsewhere asked", "open the desk itself")
	case foreign(r):
		return refused(http.StatusForbidden, "a page from elsewhere asked", "open the desk itself")
	case s.o.Remote && !s.hasKey(w, r):
		return refused(http.StatusForbidden, "the key is missing",
			"open the whole address that leadmark desk printed, with its key")
	case r.Method == http.MethodGet || r.Method == http.MethodHead:
		return nil
	case r.Method != http.MethodPost:
		return refused(http.StatusMethodNotAllowed, "this cannot be done", "")
	}
	return s.mayChange(w, r)
}

// isHost says whether a request names this very server. A name of someone else's that was made to
// point here, as in DNS rebinding, is not among the hosts.
func (s *Server) isHost(host string) bool { return slices.Contains(s.hosts, strings.ToLower(host)) }

// foreign tells by what browsers say of themselves (W3C Fetch Metadata) that another site asks for
// something else than to open a page.
func foreign(r *http.Request) bool {
	switch r.Header.Get("Sec-Fetch-Site") {
	case "", "same-origin", "none":
		return false
	}
	return r.Method != http.MethodGet || r.Header.Get("Sec-Fetch-Mode") != "navigate" ||
		r.Header.Get("Sec-Fetch-Dest") != "document"
}

// hasKey checks the key of another machine, and lets the browser keep it.
func (s *Server) hasKey(w http.ResponseWriter, r *http.Request) bool {
	if same(r.URL.Query().Get("key"), s.key) {
		http.SetCookie(w, &http.Cookie{Name: keyCookie, Value: s.key, Path: "/", HttpOnly: true,
			SameSite: http.SameSiteStrictMode})
		return true
	}
	c, err := r.Cookie(keyCookie)
	return err == nil && same(c.Value, s.key)
}

func same(a, b string) bool { return subtle.ConstantTimeCompare([]byte(a), []byte(b)) == 1 }

// mayChange checks a request that changes something.
func (s *Server) mayChange(w http.ResponseWriter, r *http.Request) error {
	kind, _, _ := mime.ParseMediaType(r.Header.Get("Content-Type"))
	switch {
	case r.ContentLength > mostBody:
		return refused(http.StatusRequestEntityTooLarge, "that is too much at once",
			"pictures are copied into the folder, not sent to the page")
	case !same(r.Header.Get(tokenHeader), s.token):
		return refused(http.StatusForbidden, "the page is older than the desk",
			"load the page again, then do it once more")
	case kind != "application/json":
		return refused(http.StatusUnsupportedMediaType, "the form cannot be read", "load the page again")
	}
	r.Body = http.MaxBytesReader(w, r.Body, mostBody)
	return nil
}

// hostsOf are the names under which a server is asked for: the loopback's, and where others may ask
// the machine's own addresses.
func hostsOf(addr net.Addr, remote bool) []string {
	_, port, err := net.SplitHostPort(addr.String())
	if err != nil {
		return nil
	}
	names := []string{"localhost", "127.0.0.1", "::1"}
	if remote {
		names = append(names, ownNames()...)
	}
	var hosts []string
	for _, n := range names {
		hosts = append(hosts, strings.ToLower(net.JoinHostPort(n, port)))
		if port == "80" {
			hosts = append(hosts, strings.ToLower(n))
		}
	}
	return hosts
}

func ownNames() []string {
	var names []string
	if name, err := os.Hostname(); err == nil {
		names = append(names, name, name+".local")
	}
	addresses, _ := net.InterfaceAddrs()
	for _, a := range addresses {
		if ip, ok := a.(*net.IPNet); ok {
			names = append(names, ip.IP.String())
		}
	}
	return names
}

// decode reads the body of a request strictly: one object, no key that is not known.
func decode(r *http.Request, v any) error {
	d := json.NewDecoder(r.Body)
	d.DisallowUnknownFields()
	err := d.Decode(v)
	if err == nil {
		if _, more := d.Token(); !errors.Is(more, io.EOF) {
			err = errors.New("there is more than one value")
		}
	}
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large):
		return refused(http.StatusRequestEntityTooLarge, "that is too much at once",
			"pictures are copied into the folder, not sent to the page")
	case err != nil:
		return refused(http.StatusBadRequest, fmt.Sprintf("the form cannot be read: %v", err), "load the page again")
	}
	return nil
}

// refuse answers with what is wrong and what to do, as JSON where a script asked.
func (s *Server) refuse(w http.ResponseWriter, r *http.Request, err error) {
	code := http.StatusInternalServerError
	var st status
	var wrong *input.Error
	var none *input.NoResult
	switch {
	case errors.As(err, &st):
		code = st.code
	case errors.As(err, &wrong), errors.As(err, &none):
		code = http.StatusUnprocessableEntity
	}
	p := problemOf(err)
	if r.Method == http.MethodPost || !strings.Contains(r.Header.Get("Accept"), "text/html") {
		answer(w, code, p)
		return
	}
	s.pages.write(w, code, "problem.html", view{Title: "That did not work", Token: s.token, Data: p})
}

// answer writes a value as JSON.
func answer(w http.ResponseWriter, code int, v any) {
	text, err := record.Line("the answer", v)
	if err != nil {
		code, text = http.StatusInternalServerError, nil
	}
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.WriteHeader(code)
	_, _ = w.Write(text) // the browser has gone: nobody is left to be told
}

// problem is what went wrong, in a person's words.
type problem struct {
	What string `json:"what"`
	Hint string `json:"hint,omitempty"`
}

// problemOf joins the faults that an error is made of.
func problemOf(err error) problem {
	var p problem
	for _, e := range input.Faults(err) {
		what, hint := input.Describe(e)
		p.What = strings.TrimPrefix(p.What+"; "+what, "; ")
		p.Hint = strings.TrimPrefix(p.Hint+"; "+hint, "; ")
	}
	p.Hint = strings.Trim(p.Hint, "; ")
	return p
}
