package desk

import (
	"bytes"
	"context"
	"encoding/json"
	"image"
	"image/jpeg"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"leadmark/calib/rig"
	"leadmark/cmd/leadmark/desk/guard"
	"leadmark/cmd/leadmark/desk/live"
	"leadmark/fit/note"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// desktop is a server that answers, over folders of a test.
type desktop struct {
	*Server
	url, folder, rigs string

	mu     sync.Mutex
	looked []string // pictures that were looked at
}

const runText = "rig = \"greenhouse\"\nmethod = \"drop\"\ntravel = \"right\"\n[conditions]\ndrop_mm = 400\n"

// someJPEG is a small picture; seed makes it another.
func someJPEG(t *testing.T, seed uint8) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 64, 48))
	for i := range img.Pix {
		img.Pix[i] = uint8(i*7) ^ seed
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func put(t *testing.T, path string, data []byte) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, data, 0o666); err != nil {
		t.Fatal(err)
	}
}

// serve starts a desk over a folder with one run of two frames, and a secret outside it.
func serve(t *testing.T, change ...func(*Options)) *desktop {
	t.Helper()
	root := t.TempDir()
	d := &desktop{folder: filepath.Join(root, "nights"), rigs: filepath.Join(root, "rigs")}
	put(t, filepath.Join(d.folder, "night1", "run.toml"), []byte(runText))
	put(t, filepath.Join(d.folder, "night1", "a.jpg"), someJPEG(t, 1))
	put(t, filepath.Join(d.folder, "night1", "b.jpg"), someJPEG(t, 2))
	put(t, filepath.Join(root, "secret.txt"), []byte("the secret"))
	put(t, filepath.Join(root, "secret.jpg"), someJPEG(t, 3))
	put(t, filepath.Join(root, "other", "run.toml"), []byte(runText))
	put(t, filepath.Join(root, "other", "secret.jpg"), someJPEG(t, 3))
	o := Options{Folder: d.folder, Rigs: rig.Store{Root: d.rigs}, Now: time.Now, Program: func() string { return "test" },
		Look: func(_ context.Context, f frame.Frame, _ ruler.Hint) (ruler.Sighting, error) {
			d.mu.Lock()
			defer d.mu.Unlock()
			d.looked = append(d.looked, f.Name)
			return ruler.Sighting{Width: f.Width, Height: f.Height,
				Refusal: note.New("no-ruler")}, nil
		}}
	for _, c := range change {
		c(&o)
	}
	s, err := New(o)
	if err != nil {
		t.Fatal(err)
	}
	d.Server = s
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	d.url = "http://" + l.Addr().String()
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- s.Serve(ctx, l) }()
	t.Cleanup(func() {
		stop()
		if err := <-done; err != nil {
			t.Error(err)
		}
	})
	return d
}

// ask sends a request as a page of the desk would, changed as wanted, and returns status and body.
func (d *desktop) ask(t *testing.T, method, path, body string, change ...func(*http.Request)) (int, string) {
	t.Helper()
	r, err := http.NewRequest(method, d.url+path, strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	if method == http.MethodPost {
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set(guard.TokenHeader, d.guard.Token)
		r.Header.Set("Origin", d.url)
	}
	for _, c := range change {
		c(r)
	}
	client := http.Client{Timeout: patience, CheckRedirect: func(*http.Request,
		[]*http.Request) error {
		return http.ErrUseLastResponse
	}}
	a, err := client.Do(r)
	if err != nil {
		t.Fatalf("%s %s: %v", method, path, err)
	}
	defer a.Body.Close()
	if a.Header.Get("Content-Security-Policy") == "" || a.Header.Get("X-Content-Type-Options") != "nosniff" {
		t.Errorf("%s %s is answered without its policy: %v", method, path, a.Header)
	}
	text, err := io.ReadAll(a.Body)
	if err != nil {
		t.Fatal(err)
	}
	return a.StatusCode, string(text)
}

// patience is when a test gives up what never happens.
const patience = 5 * time.Minute

// until asks again whenever the run says that it changed, until what is asked for is there.
func (d *desktop) until(t *testing.T, run, what string, there func() bool) {
	t.Helper()
	d.stateSince(t, run, 0) // it is followed from now on
	followed, err := d.run(run)
	if err != nil {
		t.Fatal(err)
	}
	changed, leave, err := followed.Stream()
	if err != nil {
		t.Fatal(err)
	}
	defer leave()
	for !there() {
		select {
		case <-changed:
		case <-time.After(patience):
			t.Fatalf("waited in vain for %s", what)
		}
	}
}

// stateSince is what a page sees that has seen a revision.
func (d *desktop) stateSince(t *testing.T, run string, rev int) (s live.State) {
	t.Helper()
	code, text := d.ask(t, "GET", "/run/"+run+"/state?since="+strconv.Itoa(rev), "")
	if code != 200 || json.Unmarshal([]byte(text), &s) != nil {
		t.Fatalf("state of %s: %d %s", run, code, text)
	}
	return s
}

// state waits until the run was worked out and returns what a page sees.
func (d *desktop) state(t *testing.T, run string) (s live.State) {
	t.Helper()
	d.until(t, run, "the run worked out", func() bool {
		s = d.stateSince(t, run, 0)
		return s.Settled && len(s.Frames) > 0
	})
	return s
}

// What is put right is on the disk when the answer comes, every page sees it, and it can be taken
// back.
func TestCorrectionsAreKeptAndTakenBack(t *testing.T) {
	d := serve(t)
	before := d.state(t, "night1")
	file := filepath.Join(d.folder, "night1", "corrections.toml")
	if code, text := d.ask(t, "POST", "/run/night1/correct",
		`{"file": "a.jpg", "leave_out": "a  bee\nflew through"}`); code != 200 {
		t.Fatalf("%d %s", code, text)
	}
	if text, err := os.ReadFile(file); err != nil ||
		!strings.Contains(string(text), `leave_out = "a bee flew through"`) {
		t.Errorf("corrections.toml: %v\n%s", err, text)
	}
	var s live.State
	d.until(t, "night1", "the frame left out", func() bool {
		s = d.stateSince(t, "night1", 0)
		return s.Frames[0].Status == "left_out"
	})
	if s.Undo != "a.jpg left out" || s.Rev <= before.Rev {
		t.Errorf("%+v", s)
	}
	if code, text := d.ask(t, "POST", "/run/night1/undo", `{}`); code != 200 {
		t.Fatalf("%d %s", code, text)
	}
	if _, err := os.Stat(file); err == nil {
		t.Error("corrections.toml is still there")
	}
	if code, _ := d.ask(t, "POST", "/run/night1/undo", `{}`); code != http.StatusConflict {
		t.Errorf("there was more to take back: %d", code)
	}
}

// A page that fetches only what changed ends with the same as one that fetches all.
func TestStateInParts(t *testing.T) {
	d := serve(t)
	s := d.state(t, "night1")
	put(t, filepath.Join(d.folder, "night1", "c.jpg"), someJPEG(t, 9))
	var part live.State
	d.until(t, "night1", "the new frame", func() bool {
		part = d.stateSince(t, "night1", s.Rev)
		return len(part.Frames) > 0
	})
	if part.Whole || part.Frames[0].File != "c.jpg" || len(part.Frames) != 1 {
		t.Errorf("%+v", part)
	}
	if whole := d.state(t, "night1"); len(whole.Frames) != 3 {
		t.Errorf("%d frames", len(whole.Frames))
	}
	if err := os.Remove(filepath.Join(d.folder, "night1", "c.jpg")); err != nil {
		t.Fatal(err)
	}
	d.until(t, "night1", "a frame that was taken away no longer shown",
		func() bool { return len(d.stateSince(t, "night1", 0).Frames) == 2 })
}

// How the next frames are shot is noted in shots.csv as they come, not for those that were there.
func TestSettingIsNotedForNewFrames(t *testing.T) {
	d := serve(t)
	put(t, filepath.Join(d.folder, "night1", "shots.csv"), []byte("frame,drop_mm,delay_ms,use,why\n"))
	d.state(t, "night1")
	if code, text := d.ask(t, "POST", "/run/night1/setting",
		`{"drop_mm": 250, "delay_ms": null, "speed_mps": null, "group": "", "goal_ms": 0.3}`); code != 200 {
		t.Fatalf("%d %s", code, text)
	}
	put(t, filepath.Join(d.folder, "night1", "c.jpg"), someJPEG(t, 9))
	d.until(t, "night1", "the new frame", func() bool { return len(d.stateSince(t, "night1", 0).Frames) == 3 })
	text, err := os.ReadFile(filepath.Join(d.folder, "night1", "shots.csv"))
	if err != nil || !strings.Contains(string(text), "c.jpg,250,") {
		t.Errorf("the new frame got no line: %v %s", err, text)
	}
	if strings.Contains(string(text), "a.jpg") {
		t.Errorf("a frame that was there got a line: %s", text)
	}
}

// The start form makes what leadmark calibrate --start makes, and writes over nothing.
func TestStartMakesARun(t *testing.T) {
	d := serve(t)
	form := `{"name": "night 2", "values": {"method": "drop", "travel": "left", "ruler.graduation_mm": "1", "conditions.u_drop_mm": "1"}, "goal_ms": 0.3, "write": true}`
	code, text := d.ask(t, "POST", "/start", form)
	var a started
	if err := json.Unmarshal([]byte(text), &a); err != nil || code != 200 || a.Link != "/run/night%202" ||
		len(a.Written) != 2 || a.Shots == 0 {
		t.Fatalf("%d %s", code, text)
	}
	if run, err := os.ReadFile(filepath.Join(d.folder, "night 2", "run.toml")); err != nil ||
		!strings.Contains(string(run), `travel = "left"`) {
		t.Errorf("%v %s", err, run)
	}
	if code, text := d.ask(t, "POST", "/start", form); code != http.StatusUnprocessableEntity {
		t.Errorf("made twice: %d %s", code, text)
	}
}

// A desk that was opened for one run shows that one and nothing beside it.
func TestOneRunAlone(t *testing.T) {
	d := serve(t, func(o *Options) {
		put(t, filepath.Join(o.Folder, "night2", "run.toml"), []byte(runText))
		o.Folder = filepath.Join(o.Folder, "night1")
	})
	if d.Path() != "/run/night1" {
		t.Errorf("opens %s", d.Path())
	}
	d.state(t, "night1")
	if code, _ := d.ask(t, "GET", "/run/night2/state", ""); code != http.StatusNotFound {
		t.Errorf("the run beside it: %d", code)
	}
	if code, _ := d.ask(t, "POST", "/start",
		`{"name": "night3", "values": {"method": "drop", "travel": "down"}, "goal_ms": 0, "write": true}`); code != http.StatusUnprocessableEntity {
		t.Errorf("a run beside it was made: %d", code)
	}
	if code, text := d.ask(t, "GET", "/", ""); code != 200 || strings.Contains(text, "night2") {
		t.Errorf("the first page: %d", code)
	}
}
