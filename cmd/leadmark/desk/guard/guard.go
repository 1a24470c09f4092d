package guard

import (
	"crypto/rand"
	"crypto/subtle"
	"encoding/hex"
	"mime"
	"net"
	"net/http"
	"slices"
	"strings"

	"leadmark/cmd/leadmark/desk/reply"
)

// TokenHeader carries the token of a request that changes something. A page of another origin can
// neither read the token nor set a header of its own without asking first, which nobody answers.
const TokenHeader = "X-Leadmark-Token"

// KeyCookie carries the key that other machines need.
const KeyCookie = "leadmark_key"

// policy lets a page load what this server embeds and nothing else: no script or style in the
// markup, no frame around it, no form to elsewhere (W3C Content Security Policy level 3).
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; " +
	"form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// MostBody bounds the body of a request, in bytes.
const MostBody = 64 << 10

// Guard turns away whoever is not a page of this server.
type Guard struct {
	Token string // every request that changes something carries it
	Key   string // every request carries it where remote

	remote bool     // other machines may ask too
	hosts  []string // the names under which the server is asked for
}

// New makes the guard of a server, with secrets of its own.
func New(remote bool) *Guard { return &Guard{Token: secret(), Key: secret(), remote: remote} }

// secret is a random word of 160 bits that nobody guesses.
func secret() string {
	var b [20]byte
	_, _ = rand.Read(b[:]) // never fails (crypto/rand)
	return hex.EncodeToString(b[:])
}

// Listen takes in the address at which the server is asked.
func (g *Guard) Listen(addr net.Addr) { g.hosts = hostsOf(addr, g.remote) }

// Before stands before everything: refuse answers whom it turns away.
func (g *Guard) Before(next http.Handler, refuse func(http.ResponseWriter, *http.Request, error)) http.Handler {
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
		if err := g.welcome(w, r); err != nil {
			head.Set("Connection", "close")
			refuse(w, r, err)
			return
		}
		if g.remote && r.URL.Query().Has("key") { // the key does not stay in the address
			http.Redirect(w, r, r.URL.Path, http.StatusSeeOther)
			return
		}
		next.ServeHTTP(w, r)
	})
}

// welcome says why a request is turned away, nil for one that is not.
func (g *Guard) welcome(w http.ResponseWriter, r *http.Request) error {
	switch {
	case !g.isHost(r.Host):
		return reply.Refused(http.StatusMisdirectedRequest, "this address is not the desk's",
			"open the address that leadmark desk printed")
	case r.Header.Get("Origin") != "" && r.Header.Get("Origin") != "http://"+r.Host:
		return reply.Refused(http.StatusForbidden, "a page from elsewhere asked", "open the desk itself")
	case foreign(r):
		return reply.Refused(http.StatusForbidden, "a page from elsewhere asked", "open the desk itself")
	case g.remote && !g.hasKey(w, r):
		return reply.Refused(http.StatusForbidden, "the key is missing",
			"open the whole address that leadmark desk printed, with its key")
	case r.Method == http.MethodGet || r.Method == http.MethodHead:
		return nil
	case r.Method != http.MethodPost:
		return reply.Refused(http.StatusMethodNotAllowed, "this cannot be done", "")
	}
	return g.mayChange(w, r)
}

// isHost says whether a request names this very server. A name of someone else's that was made to
// point here, as in DNS rebinding, is not among the hosts.
func (g *Guard) isHost(host string) bool { return slices.Contains(g.hosts, strings.ToLower(host)) }

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
func (g *Guard) hasKey(w http.ResponseWriter, r *http.Request) bool {
	if same(r.URL.Query().Get("key"), g.Key) {
		http.SetCookie(w, &http.Cookie{Name: KeyCookie, Value: g.Key, Path: "/", HttpOnly: true,
			SameSite: http.SameSiteStrictMode})
		return true
	}
	c, err := r.Cookie(KeyCookie)
	return err == nil && same(c.Value, g.Key)
}

func same(a, b string) bool { return subtle.ConstantTimeCompare([]byte(a), []byte(b)) == 1 }

// mayChange checks a request that changes something.
func (g *Guard) mayChange(w http.ResponseWriter, r *http.Request) error {
	kind, _, _ := mime.ParseMediaType(r.Header.Get("Content-Type"))
	switch {
	case r.ContentLength > MostBody:
		return reply.Refused(http.StatusRequestEntityTooLarge, "that is too much at once",
			"pictures are copied into the folder, not sent to the page")
	case !same(r.Header.Get(TokenHeader), g.Token):
		return reply.Refused(http.StatusForbidden, "the page is older than the desk",
			"load the page again, then do it once more")
	case kind != "application/json":
		return reply.Refused(http.StatusUnsupportedMediaType, "the form cannot be read", "load the page again")
	}
	r.Body = http.MaxBytesReader(w, r.Body, MostBody)
	return nil
}
