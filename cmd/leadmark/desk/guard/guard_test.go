package guard

import (
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

// asked has a guard answer one request, and says with what status and head.
func asked(g *Guard, r *http.Request) (int, http.Header) {
	w := httptest.NewRecorder()
	g.Before(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { w.WriteHeader(http.StatusOK) }),
		func(w http.ResponseWriter, _ *http.Request, _ error) { w.WriteHeader(http.StatusForbidden) }).ServeHTTP(w, r)
	return w.Code, w.Result().Header
}

func guarded(remote bool) *Guard {
	g := New(remote)
	g.Listen(&net.TCPAddr{IP: net.IPv4(127, 0, 0, 1), Port: 8765})
	return g
}

func request(method, path string) *http.Request {
	r := httptest.NewRequest(method, "http://127.0.0.1:8765"+path, strings.NewReader("{}"))
	r.Header.Set("Content-Type", "application/json")
	return r
}

// W3C Content Security Policy level 3: what no directive names falls back to default-src, but for
// base-uri, form-action and frame-ancestors, which must be there; a source is this server or none.
func TestPolicyNamesThisServerAlone(t *testing.T) {
	_, head := asked(guarded(false), request(http.MethodGet, "/"))
	if n := len(head.Values("Content-Security-Policy")); n != 1 {
		t.Fatalf("%d policies", n)
	}
	sources := map[string]string{}
	for _, d := range strings.Split(head.Get("Content-Security-Policy"), ";") {
		name, value, _ := strings.Cut(strings.TrimSpace(d), " ")
		if _, twice := sources[name]; twice {
			t.Errorf("%s is there twice; the second does not count", name)
		}
		if sources[name] = value; value != "'self'" && value != "'none'" {
			t.Errorf("%s allows %s", name, value)
		}
	}
	for name, want := range map[string]string{"default-src": "'none'", "base-uri": "'none'",
		"frame-ancestors": "'none'", "form-action": "'self'"} {
		if sources[name] != want {
			t.Errorf("%s is %q, want %s", name, sources[name], want)
		}
	}
	for name, want := range map[string]string{"X-Content-Type-Options": "nosniff", "X-Frame-Options": "DENY",
		"Referrer-Policy": "no-referrer", "Cross-Origin-Opener-Policy": "same-origin",
		"Cross-Origin-Resource-Policy": "same-origin", "Cache-Control": "no-store"} {
		if head.Get(name) != want {
			t.Errorf("%s is %q, want %s", name, head.Get(name), want)
		}
	}
}

// others are words that differ from a secret by one letter at one place, or in length.
func others(secret string) []string {
	all := []string{"", secret[:4], secret[:len(secret)-1], secret + "0", secret[:4] + strings.Repeat("0", len(secret)-4),
		strings.ToUpper(secret) + " "}
	for i := range secret {
		changed := []byte(secret)
		if changed[i]++; changed[i] == 'g' || changed[i] == ':' {
			changed[i] = '0'
		}
		all = append(all, string(changed))
	}
	return all
}

// Whoever changes something has the whole token.
func TestEveryLetterOfTheTokenCounts(t *testing.T) {
	g := guarded(false)
	with := func(token string) int {
		r := request(http.MethodPost, "/run/night1/accept")
		r.Header.Set(TokenHeader, token)
		code, _ := asked(g, r)
		return code
	}
	if code := with(g.Token); code != http.StatusOK {
		t.Fatalf("the token itself: %d", code)
	}
	for _, token := range others(g.Token) {
		if code := with(token); code != http.StatusForbidden {
			t.Errorf("%q for %q: %d", token, g.Token, code)
		}
	}
	if len(g.Token) != 40 || g.Token == guarded(false).Token {
		t.Errorf("a token of %d letters, the same twice: %v", len(g.Token), g.Token)
	}
}

// Another machine needs the whole key, which its browser keeps from scripts (HttpOnly) and from pages
// elsewhere (SameSite=Strict; RFC 6265bis, 5.8.2).
func TestKeyOfAnotherMachine(t *testing.T) {
	g := guarded(true)
	code, head := asked(g, request(http.MethodGet, "/?key="+g.Key))
	if code != http.StatusSeeOther || head.Get("Location") != "/" {
		t.Fatalf("with the key: %d to %q", code, head.Get("Location"))
	}
	cookie, err := http.ParseSetCookie(head.Get("Set-Cookie"))
	if err != nil || cookie.Value != g.Key || !cookie.HttpOnly || cookie.SameSite != http.SameSiteStrictMode ||
		cookie.Domain != "" {
		t.Errorf("the cookie: %+v, %v", cookie, err)
	}
	for _, key := range others(g.Key) {
		asCookie := request(http.MethodGet, "/")
		asCookie.AddCookie(&http.Cookie{Name: KeyCookie, Value: strings.TrimSpace(key)})
		inAddress := request(http.MethodGet, "/")
		inAddress.URL.RawQuery = "key=" + strings.TrimSpace(key)
		for where, r := range map[string]*http.Request{"cookie": asCookie, "address": inAddress} {
			code, head := asked(g, r)
			if code != http.StatusForbidden || head.Get("Set-Cookie") != "" {
				t.Errorf("%q as %s: %d, sets %q", key, where, code, head.Get("Set-Cookie"))
			}
		}
	}
}
