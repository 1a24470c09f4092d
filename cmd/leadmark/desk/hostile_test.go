package desk

import (
	"bufio"
	"fmt"
	"io"
	"io/fs"
	"net"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"leadmark/cmd/leadmark/desk/guard"
)

// changing are requests that change something, each with a body that would be taken.
func changing() map[string]string {
	return map[string]string{
		"/run/night1/correct": `{"file": "a.jpg", "leave_out": "hostile"}`,
		"/run/night1/undo":    `{}`,
		"/run/night1/accept":  `{"result_at": 1, "note": "hostile"}`,
		"/run/night1/setting": `{"drop_mm": 300}`,
		"/start":              `{"name": "hostile", "values": {"method": "drop", "travel": "down"}, "write": true}`,
		"/rigs":               `{"name": "hostile"}`,
		"/rig/hut/restore":    `{"number": 1, "note": "hostile"}`,
		"/plan/save":          `{"file": "hostile", "values": {"length_mm": "1", "height_mm": "1", "width_mm": "1", "motion": "straight", "speed_mps": "1", "speed_sd_mps": "0"}}`,
	}
}

// tree lists all files of a folder with their sizes.
func tree(t *testing.T, dirs ...string) string {
	t.Helper()
	var b strings.Builder
	for _, dir := range dirs {
		_ = filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
			if err == nil && !strings.Contains(path, ".seen") {
				info, _ := e.Info()
				fmt.Fprintln(&b, path, e.Type(), map[bool]int64{true: 0, false: info.Size()}[e.IsDir()])
			}
			return nil
		})
	}
	return b.String()
}

// A page of another origin cannot change anything, however it asks, nor read anything.
func TestHostileOrigin(t *testing.T) {
	d := serve(t)
	d.state(t, "night1")
	before := tree(t, d.folder, d.rigs)
	tricks := map[string]func(*http.Request){
		"another origin":   func(r *http.Request) { r.Header.Set("Origin", "http://evil.example") },
		"no origin at all": func(r *http.Request) { r.Header.Set("Origin", "null") },
		"another port":     func(r *http.Request) { r.Header.Set("Origin", "http://127.0.0.1:1") },
		"another scheme": func(r *http.Request) {
			r.Header.Set("Origin", "https"+strings.TrimPrefix(d.url,
				"http"))
		},
		"fetch metadata": func(r *http.Request) {
			r.Header.Del("Origin")
			r.Header.Set("Sec-Fetch-Site",
				"cross-site")
		},
		"a sister site": func(r *http.Request) {
			r.Header.Del("Origin")
			r.Header.Set("Sec-Fetch-Site",
				"same-site")
		},
		"no token":      func(r *http.Request) { r.Header.Del(guard.TokenHeader) },
		"a wrong token": func(r *http.Request) { r.Header.Set(guard.TokenHeader, strings.Repeat("0", 40)) },
		"a plain form": func(r *http.Request) {
			r.Header.Set("Content-Type",
				"application/x-www-form-urlencoded")
		},
		"a form of plain text": func(r *http.Request) { r.Header.Set("Content-Type", "text/plain") },
	}
	for path, body := range changing() {
		for name, trick := range tricks {
			if code, text := d.ask(t, "POST", path, body, trick); code != 403 && code != 415 {
				t.Errorf("%s, %s: %d %s", path, name, code, text)
			}
		}
		for _, method := range []string{"GET", "PUT", "DELETE", "PATCH", "OPTIONS"} {
			if code, _ := d.ask(t, method, path, ""); code == 200 && method != "GET" || method == "OPTIONS" &&
				code < 400 {
				t.Errorf("%s %s: %d", method, path, code)
			}
		}
	}
	foreign := func(mode, dest string) func(*http.Request) {
		return func(r *http.Request) {
			r.Header.Set("Sec-Fetch-Site", "cross-site")
			r.Header.Set("Sec-Fetch-Mode", mode)
			r.Header.Set("Sec-Fetch-Dest", dest)
		}
	}
	for _, path := range []string{"/run/night1/state", "/run/night1/picture/a.jpg", "/", "/look/base.js"} {
		for _, how := range [][2]string{{"no-cors", "image"}, {"cors", "empty"}, {"no-cors", "script"},
			{"navigate", "iframe"}} {
			if code, _ := d.ask(t, "GET", path, "", foreign(how[0], how[1])); code != 403 {
				t.Errorf("%s as %v: %d", path, how, code)
			}
		}
	}
	if after := tree(t, d.folder, d.rigs); after != before {
		t.Errorf("something was changed:\n%s\n%s", before, after)
	}
}

// A name of somebody else's that was made to point at this machine gets nothing.
func TestRebindingHostName(t *testing.T) {
	d := serve(t)
	_, port, _ := net.SplitHostPort(strings.TrimPrefix(d.url, "http://"))
	for _, host := range []string{"evil.example:" + port, "evil.example", "localhost.evil.example:" + port,
		"127.0.0.1.evil.example:" + port, "127.0.0.1:1", "127.0.0.1", "0.0.0.0:" + port, "[::]:" + port,
		"127.1:" + port} {
		as := func(r *http.Request) { r.Host = host; r.Header.Set("Origin", "http://"+host) }
		for _, path := range []string{"/", "/run/night1/state", "/run/night1/picture/a.jpg"} {
			if code, text := d.ask(t, "GET", path, "", as); code == 200 || strings.Contains(text, d.guard.Token) {
				t.Errorf("%s %s: %d", host, path, code)
			}
		}
		if code, _ := d.ask(t, "POST", "/run/night1/correct", `{"file": "a.jpg", "leave_out": "x"}`, as); code == 200 {
			t.Errorf("%s may change something", host)
		}
	}
	for _, host := range []string{"localhost:" + port, "127.0.0.1:" + port, "[::1]:" + port} {
		if code, _ := d.ask(t, "GET", "/", "", func(r *http.Request) { r.Host = host }); code != 200 {
			t.Errorf("its own name %s: %d", host, code)
		}
	}
}

// steps are ways out of a folder, as they might be written.
func steps() []string {
	return []string{"..", "../secret.txt", "..%2fsecret.txt", "%2e%2e%2fsecret.txt", "%2e%2e", "..%5csecret.txt",
		"%252e%252e%252fsecret.txt", "....//secret.txt", "..%c0%afsecret.txt",
		"%2fetc%2fpasswd", "/etc/passwd", "night1%2f..%2f..%2fsecret.txt", "a.jpg%00.txt",
		"a.jpg%2f..%2f..%2f..%2fsecret.jpg", ".night1.seen", "run.toml", "linked.jpg", "linked", "%2e", "",
		"~", "C:%5csecret.txt", "..;%2fsecret.txt", "outside"}
}

// No parameter of an address or a form leads out of the folders, by steps, links or their
// encodings.
func TestTraversalInEveryParameter(t *testing.T) {
	d := serve(t)
	outside := filepath.Dir(d.folder)
	for from, to := range map[string]string{"night1/linked.jpg": "secret.jpg", "night1/linked": "secret.txt",
		"linked": "other", "outside": "."} {
		if err := os.Symlink(filepath.Join(outside, to), filepath.Join(d.folder, from)); err != nil {
			t.Skipf("links cannot be made here: %v", err)
		}
	}
	put(t, filepath.Join(d.folder, "sly", "a.jpg"), someJPEG(t, 1))
	if err := os.Symlink(filepath.Join(outside, "secret.txt"), filepath.Join(d.folder, "sly", "run.toml")); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(d.folder, "sly.toml"), []byte("length_mm = 1\nheight_mm = 1\nwidth_mm = 1\nmotion = "+
		"\"table\"\ncourse = \"../secret.txt\"\n"))
	for _, path := range []string{"/", "/run/sly", "/run/sly/state", "/plan/answer?lag_ms=52&subject=sly.toml",
		"/plan/preset/sly.toml"} {
		if code, text := d.raw(t, path); strings.Contains(text, "secret") || path != "/" && code == 200 {
			t.Errorf("%s: %d %s", path, code, text)
		}
	}
	d.state(t, "night1")
	secret := string(someJPEG(t, 3))
	patterns := []string{"/run/#", "/run/#/state", "/run/#/events", "/run/#/figures", "/run/#/frame/a.jpg",
		"/run/#/picture/secret.jpg", "/run/night1/picture/#", "/run/night1/clip/#", "/run/night1/marks/#",
		"/look/#", "/rig/#", "/rig/#/compare?a=1&b=2", "/plan/preset/#",
		"/plan/answer?lag_ms=52&spread_ms=1&subject=#", "/plan/answer?lag_ms=52&preset=#",
		"/plan/answer?rig=#&preset=mason-bee", "/plan/answer?lag_ms=52&course=#&motion=table", "/shoot/#",
		"/shoot/#/state", "/shoot/#/picture/a.jpg", "/run/night1/state?since=#"}
	for _, pattern := range patterns {
		for _, step := range steps() {
			path := strings.Replace(pattern, "#", step, 1)
			code, text := d.raw(t, path)
			if strings.Contains(text, "the secret") || strings.Contains(text, secret[len(secret)/2:]) ||
				strings.Contains(text, "root:x:") {
				t.Errorf("%s gives a secret away (%d)", path, code)
			}
			if strings.HasPrefix(pattern, "/run/night1/picture/") && code == 200 {
				t.Errorf("%s: %d", path, code)
			}
		}
	}
	for path, form := range map[string]string{
		"/run/night1/correct": `{"file": %q, "leave_out": "x"}`,
		"/run/night1/setting": `{"drop_mm": 1, "also": [%q]}`,
		"/start":              `{"name": %q, "values": {"method": "drop", "travel": "down"}, "write": true}`,
		"/rigs":               `{"name": %q}`,
		"/plan/save":          `{"file": %q, "values": {"length_mm": "1", "height_mm": "1", "width_mm": "1", "motion": "straight", "speed_mps": "1", "speed_sd_mps": "0"}}`,
	} {
		before := tree(t, outside)
		for _, step := range steps() {
			plain, err := url.PathUnescape(step)
			if err != nil || step == "linked.jpg" && strings.HasSuffix(path, "correct") || step == "~" ||
				step == "linked" && path != "/start" || step == "outside" && path != "/start" ||
				step == "run.toml" || !strings.ContainsAny(plain, "./\\:\x00") && path != "/start" {
				continue // names that are no way out, and are taken
			}
			if code, text := d.ask(t, "POST", path, fmt.Sprintf(form, plain)); code == 200 &&
				(strings.ContainsAny(plain, "/\\\x00") || strings.HasPrefix(plain, ".")) {
				t.Errorf("%s takes %q: %s", path, plain, text)
			}
		}
		for _, line := range strings.Split(tree(t, outside), "\n") {
			if !strings.Contains(before, line) && !strings.HasPrefix(line, d.folder+"/") &&
				!strings.HasPrefix(line, d.rigs) {
				t.Errorf("%s made %s", path, line)
			}
		}
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if slices.Contains(d.looked, "linked.jpg") || slices.Contains(d.looked, "secret.jpg") {
		t.Errorf("a picture outside was looked at: %v", d.looked)
	}
	for _, f := range d.state(t, "night1").Frames {
		if f.File == "linked.jpg" && (f.Status != "refused" || f.Code != "outside") {
			t.Errorf("linked.jpg: %+v", f)
		}
	}
}

// raw asks for a path exactly as it is written: a client would tidy it up first.
func (d *desktop) raw(t *testing.T, path string) (int, string) {
	t.Helper()
	host := strings.TrimPrefix(d.url, "http://")
	c, err := net.Dial("tcp", host)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	_ = c.SetDeadline(time.Now().Add(patience))
	fmt.Fprintf(c, "GET %s HTTP/1.1\r\nHost: %s\r\nAccept: text/html\r\nConnection: close\r\n\r\n", path, host)
	a, err := http.ReadResponse(bufio.NewReader(c), nil)
	if err != nil {
		return 0, "" // refused before it was understood
	}
	defer a.Body.Close()
	if strings.HasSuffix(path, "/events") && a.StatusCode == 200 {
		return a.StatusCode, ""
	}
	text, _ := io.ReadAll(a.Body)
	return a.StatusCode, string(text)
}

// An upload of 2 GB, stated or not, is refused at once and takes no memory.
func TestHugeUpload(t *testing.T) {
	d := serve(t)
	d.state(t, "night1")
	host := strings.TrimPrefix(d.url, "http://")
	var m0, m1 runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&m0)
	for _, head := range []string{"Content-Length: 2147483648", "Transfer-Encoding: chunked"} {
		c, err := net.Dial("tcp", host)
		if err != nil {
			t.Fatal(err)
		}
		_ = c.SetDeadline(time.Now().Add(patience))
		fmt.Fprintf(c, "POST /run/night1/correct HTTP/1.1\r\nHost: %s\r\nOrigin: %s\r\nContent-Type: "+
			"application/json\r\n%s: %s\r\n%s\r\n\r\n", host, d.url, guard.TokenHeader, d.guard.Token, head)
		go func() { // as much as is taken
			block := []byte("10000\r\n" + strings.Repeat(" ", 1<<16) + "\r\n")
			for sent := 0; sent < 2<<30; sent += 1 << 16 {
				if _, err := c.Write(block); err != nil {
					return
				}
			}
		}()
		a, err := http.ReadResponse(bufio.NewReader(c), nil)
		if err != nil {
			t.Fatalf("%s: %v", head, err)
		}
		if a.StatusCode != http.StatusRequestEntityTooLarge {
			t.Errorf("%s: %d", head, a.StatusCode)
		}
		a.Body.Close()
		c.Close()
	}
	runtime.ReadMemStats(&m1)
	if grown := m1.TotalAlloc - m0.TotalAlloc; grown > 64<<20 {
		t.Errorf("%d MB were taken for it", grown>>20)
	}
	if code, _ := d.ask(t, "GET", "/", ""); code != 200 {
		t.Errorf("afterwards: %d", code)
	}
}

// A form that is not as it should be changes nothing and brings nothing down.
func TestMalformedForms(t *testing.T) {
	d := serve(t)
	d.state(t, "night1")
	before := tree(t, d.folder, d.rigs)
	bodies := []string{"", "{", "[]", "null1", "\x00", `"text"`, `{"unknown": 1}`, `{} {}`, `{"file": 5}`,
		`{"file": "a.jpg", "front_px": [1]}`[:30], `{"file": "a.jpg", "front_px": [1e999, 0]}`,
		`{"file": "a.jpg", "front_px": [100000, 0]}`, `{"file": "a.jpg", "ruler_px": [1, 1, 1, 1]}`,
		`{"trip_px": [0, 0, 5, 5], "trip_u_mm": -1}`, `{"trip_px": [3, 3, 3, 3], "trip_u_mm": 1}`,
		`{"file": "a.jpg", "leave_out": "` + strings.Repeat("x", 400) + `"}`,
		`{"drop_mm": -5}`, `{"drop_mm": "much"}`, `{"number": 99}`, `{"number": -1}`,
		`{"values": {"nonsense": "1"}}`, `{"name": "x", "values": {"method": "thrown"}, "write": true}`,
		`{"goal_ms": -1}`, strings.Repeat("[", 10000), `{"file": "b.jpg"}`}
	for path := range changing() {
		for _, body := range bodies {
			if path == "/run/night1/undo" && body == "" {
				continue
			}
			code, text := d.ask(t, "POST", path, body)
			if code < 400 || code >= 500 {
				t.Errorf("%s %.60q: %d %.200s", path, body, code, text)
			}
		}
	}
	for _, query := range []string{"since=x", "since=99999999999999999999"} {
		if code, _ := d.ask(t, "GET", "/run/night1/state?"+query, ""); code != 400 {
			t.Errorf("%s: %d", query, code)
		}
	}
	for _, query := range []string{"", "lag_ms=NaN&preset=mason-bee", "lag_ms=-1&preset=mason-bee",
		"lag_ms=52&spread_ms=x&preset=mason-bee", "lag_ms=52&preset=mason-bee&speed_mps=inf",
		"lag_ms=52&preset=mason-bee&f_number=0.001", "lag_ms=52&preset=mason-bee&probability=7",
		"lag_ms=1e300&preset=mason-bee", "lag_ms=52&preset=mason-bee&length_mm=1e300"} {
		if code, text := d.ask(t, "GET", "/plan/answer?"+query, ""); code < 400 || code >= 500 {
			t.Errorf("plan %s: %d %.200s", query, code, text)
		}
	}
	if after := tree(t, d.folder, d.rigs); after != before {
		t.Errorf("something was changed:\n%s\n%s", before, after)
	}
}

// The name of a picture is text wherever it comes, also in the markup the server writes.
func TestHostileFileName(t *testing.T) {
	d := serve(t)
	const name = `<img src=x onerror=alert(1)>.jpg`
	put(t, filepath.Join(d.folder, "night1", name), someJPEG(t, 5))
	put(t, filepath.Join(d.folder, `<b onclick=alert(1)>`, "run.toml"), []byte(runText))
	d.state(t, "night1")
	for _, path := range []string{"/", "/run/night1", "/run/night1/frame/" + url.PathEscape(name),
		"/run/" + url.PathEscape(`<b onclick=alert(1)>`)} {
		code, text := d.ask(t, "GET", path, "", func(r *http.Request) { r.Header.Set("Accept", "text/html") })
		if code != 200 || strings.Contains(text, "<img src=x") || strings.Contains(text, "<b onclick") {
			t.Errorf("%s: %d\n%s", path, code, text)
		}
	}
	if code, _ := d.ask(t, "GET", "/run/night1/picture/"+url.PathEscape(name), ""); code != 200 {
		t.Errorf("the picture itself: %d", code)
	}
}

// Another machine needs the key, and only then anything is answered.
func TestRemoteNeedsTheKey(t *testing.T) {
	d := serve(t, func(o *Options) { o.Remote = true })
	for _, path := range []string{"/", "/run/night1/state", "/look/base.js", "/?key=" + strings.Repeat("0", 40)} {
		if code, text := d.ask(t, "GET", path, ""); code != 403 || strings.Contains(text, d.guard.Token) &&
			path == "/run/night1/state" {
			t.Errorf("%s without the key: %d", path, code)
		}
	}
	code, _ := d.ask(t, "GET", d.Path(), "")
	if code != http.StatusSeeOther {
		t.Errorf("with the key: %d", code)
	}
	if code, _ := d.ask(t, "GET", "/", "", func(r *http.Request) {
		r.AddCookie(&http.Cookie{Name: guard.KeyCookie,
			Value: d.guard.Key})
	}); code != 200 {
		t.Errorf("with the key kept: %d", code)
	}
}

// The pages hold no script, style or handler of their own, and name nothing elsewhere: so the
// policy can be strict, and all works without a network.
func TestPagesAreWholeAndPlain(t *testing.T) {
	names, err := pageFiles.ReadDir("page")
	if err != nil {
		t.Fatal(err)
	}
	inline := regexp.MustCompile(`(?i)<script>|<style|\sstyle=|\son[a-z]+=|javascript:`)
	elsewhere := regexp.MustCompile(`(?i)https?://[^\s"']+|url\(|@import|//[a-z]+\.[a-z]`)
	for _, n := range names {
		text, err := pageFiles.ReadFile("page/" + n.Name())
		if err != nil {
			t.Fatal(err)
		}
		if filepath.Ext(n.Name()) == ".html" && inline.Match(text) {
			t.Errorf("%s: %s", n.Name(), inline.Find(text))
		}
		for _, at := range elsewhere.FindAllString(string(text), -1) {
			if !strings.HasPrefix(at, "http://www.w3.org/2000/svg") {
				t.Errorf("%s names %s", n.Name(), at)
			}
		}
		if filepath.Ext(n.Name()) == ".js" &&
			regexp.MustCompile(`innerHTML|outerHTML|insertAdjacentHTML|document\.write|eval\(`).Match(text) {
			t.Errorf("%s makes markup of texts", n.Name())
		}
	}
}
