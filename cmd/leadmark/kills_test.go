package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"leadmark/calib/record"
	"leadmark/calib/rig"
	"leadmark/calib/runfile"
	"leadmark/calib/shoot"
)

// writerEnv makes the test's own program a writer of the folder that it names, for TestKillsOfWriters.
const writerEnv = "LEADMARK_TEST_WRITER"

// writeForEver accepts, corrects and learns in turn as fast as the disk allows, and says each time
// what was granted.
func writeForEver(dir, who string) error {
	store := rig.Store{Root: filepath.Join(dir, "rigs")}
	for i := 1; ; i++ {
		note := fmt.Sprintf("%s-%d", who, i)
		e := rig.Entry{Accepted: time.Now(), RunSHA256: note, Note: note}
		e.Answer = record.Answer{Schema: record.Schema, Rig: "greenhouse", Determined: []string{"lag"},
			Lag: &record.LagEntry{ValueMS: 52.31, UMS: 0.18}}
		a, err := store.Append(context.Background(), "greenhouse", e)
		if err != nil {
			return err
		}
		fmt.Println("accepted", note, a.Torn)
		_, _, err = runfile.Correct(context.Background(), filepath.Join(dir, "night"),
			func(c runfile.Corrections) (runfile.Corrections, error) {
				return c.With(runfile.Correction{Frame: who + ".jpg", LeftOut: strconv.Itoa(i)}), nil
			})
		if err != nil {
			return err
		}
		fmt.Println("corrected", i)
		text := learnedText(note)
		path, err := shoot.WriteSubject(context.Background(), filepath.Join(dir, "bee.toml"), []byte(text))
		if err != nil {
			return err
		}
		fmt.Println("learned", filepath.Base(path))
	}
}

// learnedText is a subject's file of a few kilobytes whose last line shows that it is whole.
func learnedText(note string) string {
	return "# " + note + "\n" + strings.Repeat("# where the values come from, in a line of words\n", 80) +
		"speed_mps = 1.3\n# " + note + "\n"
}

// TestKillsOfWriters kills processes that write, each after as many grants as chance says, two of
// which write the same files at once. Whatever they said was granted is there, and every file reads
// as it was before or after a change. A few kills by default; LEADMARK_WRITER_KILLS asks for more
// (scripts/kills: 500).
func TestKillsOfWriters(t *testing.T) {
	kills, err := strconv.Atoi(os.Getenv("LEADMARK_WRITER_KILLS"))
	if err != nil {
		kills = 6
	}
	random := rand.New(rand.NewPCG(3, 4))
	total, torn := 0, 0
	var w *written
	for k := range kills {
		if k%10 == 0 {
			w = newWritten(t)
		}
		w.live(t, k, random)
		torn += w.check(t, k)
		if t.Failed() {
			return
		}
		total += w.granted
		w.granted = 0
	}
	t.Logf("%d kills; %d changes had been granted and all are there; %d times the last line was torn, moved "+
		"aside and told", kills, total, torn)
	if total < kills {
		t.Errorf("only %d changes were granted", total)
	}
}

// written is a folder that processes write, and what they said they did.
type written struct {
	dir      string
	mu       sync.Mutex
	accepted []string
	learned  []string
	reason   map[string]int // the last correction granted, by who made it
	granted  int
}

func newWritten(t *testing.T) *written {
	t.Helper()
	w := &written{dir: t.TempDir(), reason: map[string]int{}}
	if err := os.MkdirAll(filepath.Join(w.dir, "night"), 0o777); err != nil {
		t.Fatal(err)
	}
	if _, err := (rig.Store{Root: filepath.Join(w.dir, "rigs")}).New("greenhouse"); err != nil {
		t.Fatal(err)
	}
	return w
}

// live starts two writers and kills both, not at the same moment.
func (w *written) live(t *testing.T, k int, random *rand.Rand) {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	var wait sync.WaitGroup
	for side := range 2 {
		who := fmt.Sprintf("w%d-%d", k, side)
		c := exec.Command(self)
		c.Env = append(os.Environ(), writerEnv+"="+w.dir+"|"+who)
		out, err := c.StdoutPipe()
		if err == nil {
			err = c.Start()
		}
		if err != nil {
			t.Fatal(err)
		}
		grants := 1 + random.IntN(40)
		wait.Go(func() { w.listen(out, who, grants, c.Process.Kill) })
		defer func() { _ = c.Wait() }()
	}
	wait.Wait()
}

// listen notes what a writer grants, and kills it after so many grants, while it is at the next; a
// line that is not whole grants nothing.
func (w *written) listen(out io.Reader, who string, grants int, kill func() error) {
	r := bufio.NewReader(out)
	for n := 1; ; n++ {
		line, err := r.ReadString('\n')
		if err != nil {
			return
		}
		if n == grants {
			_ = kill()
		}
		words := append(strings.Fields(line), "", "")
		w.mu.Lock()
		w.granted++
		switch words[0] {
		case "accepted":
			w.accepted = append(w.accepted, words[1])
		case "corrected":
			w.reason[who+".jpg"], _ = strconv.Atoi(words[1])
		case "learned":
			w.learned = append(w.learned, words[1])
		}
		w.mu.Unlock()
	}
}

// check holds the files against what was granted.
func (w *written) check(t *testing.T, k int) (torn int) {
	t.Helper()
	h, err := (rig.Store{Root: filepath.Join(w.dir, "rigs")}).History("greenhouse")
	if err != nil {
		t.Errorf("kill %d: %v", k, err)
	}
	torn = holdHistory(t, h, w.accepted, k)
	c, err := runfile.LoadCorrections(filepath.Join(w.dir, "night"))
	if err != nil {
		t.Errorf("kill %d: %v", k, err)
	}
	for file, i := range w.reason {
		if got, _ := strconv.Atoi(c.Of(file).LeftOut); got != i && got != i+1 {
			t.Errorf("kill %d: %s has correction %d, granted was %d", k, file, got, i)
		}
	}
	files, _ := filepath.Glob(filepath.Join(w.dir, "bee-learned*.toml"))
	for _, path := range files {
		text, _ := os.ReadFile(path)
		note, _, _ := strings.Cut(strings.TrimPrefix(string(text), "# "), "\n")
		if string(text) != learnedText(note) {
			t.Errorf("kill %d: %s is not whole (%d bytes)", k, filepath.Base(path), len(text))
		}
	}
	for _, name := range w.learned {
		if _, err := os.Stat(filepath.Join(w.dir, name)); err != nil {
			t.Errorf("kill %d: %s was granted and is lost", k, name)
		}
	}
	return torn
}
