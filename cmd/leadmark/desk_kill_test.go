package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"leadmark/calib/rig"
	"leadmark/calib/runfile"
)

// killedDesk is a desk in a process of its own, which is killed.
type killedDesk struct {
	c          *exec.Cmd
	url, token string
}

// startKilled starts the desk as a person does. The test's own program is the desk where it is
// called leadmark (TestMain).
func startKilled(t testing.TB, leadmark, nights, rigs string) *killedDesk {
	t.Helper()
	d := &killedDesk{c: exec.Command(leadmark, "desk", nights, "--no-open", "--rigs", rigs)}
	out, err := d.c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := d.c.Start(); err != nil {
		t.Fatal(err)
	}
	said := make([]byte, 200)
	n, _ := io.ReadAtLeast(out, said, 30)
	d.url = regexp.MustCompile(`http://[^\s/]+`).FindString(string(said[:n]))
	page, err := d.get("/")
	if err != nil {
		t.Fatalf("the desk does not answer: %v (%s)", err, said[:n])
	}
	d.token = regexp.MustCompile(`name="token" content="([0-9a-f]+)"`).FindStringSubmatch(page)[1]
	return d
}

func (d *killedDesk) get(path string) (string, error) {
	a, err := http.Get(d.url + path)
	if err != nil {
		return "", err
	}
	defer a.Body.Close()
	text, err := io.ReadAll(a.Body)
	return string(text), err
}

// post asks for a change and says whether it was granted.
func (d *killedDesk) post(path string, body any) bool {
	text, err := json.Marshal(body)
	if err != nil {
		return false
	}
	r, err := http.NewRequest("POST", d.url+path, bytes.NewReader(text))
	if err != nil {
		return false
	}
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("X-Leadmark-Token", d.token)
	a, err := http.DefaultClient.Do(r)
	if err != nil {
		return false
	}
	defer a.Body.Close()
	_, err = io.ReadAll(a.Body)
	return err == nil && a.StatusCode == 200
}

// changes tells whenever a run changes, and ends with the desk.
func (d *killedDesk) changes(t *testing.T, run string) <-chan struct{} {
	t.Helper()
	a, err := http.Get(d.url + "/run/" + run + "/events")
	if err != nil {
		t.Fatal(err)
	}
	changed := make(chan struct{}, 1)
	go func() {
		defer close(changed)
		defer a.Body.Close()
		for lines := bufio.NewScanner(a.Body); lines.Scan(); {
			select {
			case changed <- struct{}{}:
			default: // it is told already
			}
		}
	}()
	return changed
}

// What is granted.
const (
	correction = iota
	calibration
)

// granted is what the desk said was done, before it was killed.
type granted struct {
	told  chan int      // each grant as it comes
	again chan struct{} // of one place: a calibration was accepted since the last correction

	mu      sync.Mutex
	reason  map[string]string   // why a frame is left out, the last that was granted
	pending map[string][]string // and those asked for since, and not answered
	notes   []string            // of accepted calibrations
	count   int                 // changes granted
}

// tell tells of a grant, as long as somebody listens.
func (g *granted) tell(what int, stop <-chan struct{}) {
	select {
	case g.told <- what:
	case <-stop:
	}
}

// await waits until a calibration was accepted and so many more changes were granted.
func (g *granted) await(t *testing.T, more int) {
	t.Helper()
	for begun := false; !begun || more > 0; {
		select {
		case what := <-g.told:
			if begun {
				more--
			}
			begun = begun || what == calibration
		case <-time.After(patience):
			t.Fatal("the desk grants nothing any more")
		}
	}
}

// linkToSelf is a link to this very program by the name under which it is leadmark.
func linkToSelf(t testing.TB) (string, error) {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	leadmark := filepath.Join(t.TempDir(), "leadmark")
	return leadmark, os.Symlink(self, leadmark)
}

// TestKillsLoseNothing kills the desk while corrections and accepts come in, after as many as
// chance says. What it had granted is there afterwards, and no file is half written. A few kills by
// default; LEADMARK_KILLS asks for more (scripts/deskbench: 200).
func TestKillsLoseNothing(t *testing.T) {
	kills := 3
	if text := os.Getenv("LEADMARK_KILLS"); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 {
			t.Fatalf("LEADMARK_KILLS=%s is no number of kills", text)
		}
		kills = n
	} else if testing.Short() {
		t.Skip("starts processes")
	}
	leadmark, err := linkToSelf(t)
	if err != nil {
		t.Fatal(err)
	}
	dir := smallRun(t, 5)
	nights, rigs := filepath.Dir(dir), t.TempDir()
	if err := os.MkdirAll(filepath.Join(rigs, "greenhouse"), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(rigs, "greenhouse", "rig.toml"), nil, 0o666); err != nil {
		t.Fatal(err)
	}
	resultOf(t, dir) // so that what is seen is remembered, and each start is quick
	random := rand.New(rand.NewPCG(1, 2))
	g := &granted{reason: map[string]string{}, pending: map[string][]string{}}
	for k := range kills {
		d := startKilled(t, leadmark, nights, rigs)
		g.told, g.again = make(chan int), make(chan struct{}, 1)
		changed := d.changes(t, "night")
		var wait sync.WaitGroup
		stop := make(chan struct{})
		wait.Go(func() { g.correct(d, k, stop) })
		wait.Go(func() { g.accept(d, k, changed, stop) })
		g.await(t, random.IntN(12)) // killed while it works, not before it has begun
		if err := d.c.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		_ = d.c.Wait()
		close(stop)
		wait.Wait()
		g.check(t, dir, rigs, k)
		if t.Failed() {
			return
		}
	}
	t.Logf("%d kills; kept were %d accepted calibrations and %d corrections", kills, len(g.notes), g.count-len(g.notes))
	if len(g.notes) == 0 || len(g.reason) == 0 {
		t.Error("nothing was ever granted: the test tried nothing")
	}
}

// correct leaves two frames out again and again, each time for another reason, and lets the result
// be accepted in between.
func (g *granted) correct(d *killedDesk, k int, stop <-chan struct{}) {
	for i := 0; ; i++ {
		file, why := fmt.Sprintf("IMG_000%d.JPG", 2+i%2), fmt.Sprintf("reason %d of kill %d", i, k)
		g.mu.Lock()
		g.pending[file] = append(g.pending[file], why)
		g.mu.Unlock()
		if d.post("/run/night/correct", map[string]any{"file": file, "leave_out": why}) {
			g.mu.Lock()
			g.reason[file] = why
			g.count++
			delete(g.pending, file)
			g.mu.Unlock()
			g.tell(correction, stop)
		}
		select {
		case <-g.again:
		case <-stop:
			return
		}
	}
}

// accept accepts whatever the run tells.
func (g *granted) accept(d *killedDesk, k int, changed, stop <-chan struct{}) {
	for i := 0; ; i++ {
		note := fmt.Sprintf("accept %d of kill %d", i, k)
		if !d.acceptOne(note) { // there is no result, there is another by now, or the desk is killed
			select {
			case _, alive := <-changed:
				if !alive {
					return
				}
			case <-stop:
				return
			}
			continue
		}
		g.mu.Lock()
		g.notes = append(g.notes, note)
		g.count++
		g.mu.Unlock()
		g.tell(calibration, stop)
		select {
		case g.again <- struct{}{}:
		default:
		}
	}
}

// acceptOne accepts what the run tells now, and says whether that was granted.
func (d *killedDesk) acceptOne(note string) bool {
	text, err := d.get("/run/night/state")
	var s struct {
		ResultAt int `json:"result_at"`
	}
	if err != nil || json.Unmarshal([]byte(text), &s) != nil {
		return false
	}
	return d.post("/run/night/accept", map[string]any{"result_at": s.ResultAt, "note": note})
}

// holdHistory looks for the calibrations that were granted, by their notes, and for lines that are
// neither whole nor torn; it tells how many are torn.
func holdHistory(t *testing.T, h rig.History, granted []string, k int) (torn int) {
	t.Helper()
	notes := map[string]bool{}
	for _, e := range h.Entries {
		notes[e.Note] = true
	}
	for _, note := range granted {
		if !notes[note] {
			t.Errorf("kill %d: calibration %q was granted and is lost", k, note)
		}
	}
	for _, d := range h.Damaged {
		if torn++; !d.Torn {
			t.Errorf("kill %d: line %d: %s", k, d.Line, d.What)
		}
	}
	return torn
}

// check looks for all that was granted, and for files that are not whole.
func (g *granted) check(t *testing.T, dir, rigs string, k int) {
	t.Helper()
	c, err := runfile.LoadCorrections(dir)
	if err != nil {
		t.Errorf("kill %d: corrections.toml: %v", k, err)
		return
	}
	for file, why := range g.reason {
		if got := c.Of(file).LeftOut; got != why && !slices.Contains(g.pending[file], got) {
			t.Errorf("kill %d: %s is left out because of %q, granted was %q", k, file, got, why)
		} else {
			g.reason[file] = got
			delete(g.pending, file)
		}
	}
	text, err := os.ReadFile(filepath.Join(rigs, "greenhouse", rig.HistoryName))
	if err != nil && len(g.notes) > 0 {
		t.Errorf("kill %d: %v", k, err)
	}
	h := rig.ParseHistory(text)
	holdHistory(t, h, g.notes, k)
	for _, folder := range []string{dir, filepath.Join(rigs, "greenhouse")} {
		entries, _ := os.ReadDir(folder)
		for _, e := range entries {
			name := e.Name()
			known := strings.HasSuffix(name, ".JPG") || strings.HasSuffix(name, ".toml") || name == "shots.csv" ||
				name == "truth.json" || name == rig.HistoryName
			if !known && !strings.HasSuffix(name, ".part") && !strings.Contains(name, "torn") {
				t.Errorf("kill %d left %s behind", k, name)
			}
		}
	}
}
