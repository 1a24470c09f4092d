package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"leadmark/calib/plan/subject"
	"leadmark/calib/record"
	"leadmark/calib/rig"
	"leadmark/calib/runfile"
	"leadmark/calib/shoot"
	"leadmark/calib/shoot/sidecar"
	"leadmark/calib/store"
	"leadmark/cmd/leadmark/output"
)

// Six programs make one file: one says that it did, and the file holds its text; the others say
// that there is one. Some rounds by default; LEADMARK_ATTACK_ROUNDS asks for more (scripts/attacks:
// 1,000).
func TestAttackOfSixMakers(t *testing.T) {
	rounds, err := strconv.Atoi(os.Getenv("LEADMARK_ATTACK_ROUNDS"))
	if err != nil {
		rounds = 5
	}
	presets := subject.Presets()
	dir := t.TempDir()
	file := filepath.Join(dir, "bee.toml")
	faster := 0
	for round := range rounds {
		said := sixAtOnce(t, func(i int) []string {
			return []string{"plan", "--preset", presets[i%len(presets)], "--write", file}
		})
		made := winners(said, "wrote "+file)
		if len(made) != 1 {
			t.Fatalf("round %d: %d made it: %q", round+1, len(made), said)
		}
		want, _ := subject.PresetText(presets[made[0]%len(presets)])
		if got, err := os.ReadFile(file); !bytes.Equal(got, want) {
			t.Fatalf("round %d: maker %d says that it wrote it, and there are %d bytes (%v) of another", round+1,
				made[0], len(got), err)
		}
		faster += len(winners(said, "was just made by another program"))
		name := fmt.Sprintf("rig %d", round)
		said = sixAtOnce(t, func(int) []string {
			return []string{"rig", "new", name, "--rigs", filepath.Join(dir, "rigs")}
		})
		if made = winners(said, "Made the profile"); len(made) != 1 {
			t.Fatalf("round %d: %d made the rig: %q", round+1, len(made), said)
		}
		faster += len(winners(said, "was just made by another program"))
		entries, _ := os.ReadDir(dir)
		if err := os.Remove(file); err != nil || len(entries) > 2 {
			t.Fatal(err, entries)
		}
	}
	t.Logf("%d rounds of two commands; %d times a loser came between the look and the making", rounds, faster)
}

// sixAtOnce runs six programs, each of which must say that it made something or that there is one.
func sixAtOnce(t *testing.T, args func(i int) []string) (said []string) {
	t.Helper()
	said = make([]string, 6)
	var wait sync.WaitGroup
	for i := range said {
		wait.Go(func() {
			out, err := exec.Command("leadmark", args(i)...).CombinedOutput()
			said[i] = string(out)
			known := strings.Contains(said[i], "is there already") ||
				strings.Contains(said[i], "was just made by another program")
			if err != nil && !known {
				t.Errorf("a loser was told: %s", out)
			}
		})
	}
	wait.Wait()
	return said
}

func winners(said []string, words string) (which []int) {
	for i, s := range said {
		if strings.Contains(s, words) {
			which = append(which, i)
		}
	}
	return which
}

// Another program holds the lock. The command says that it waits, ends at a signal, and has not
// written, then or when the lock is let go.
func TestAttackOfAHeldLock(t *testing.T) {
	w := newWorld(t, attack{}, lookLeadmark(t))
	for what, args := range map[string]string{
		"restore": "rig restore greenhouse 1",
		"accept":  "calibrate $W/night --readings $W/readings.csv --accept",
		"correct": "",
	} {
		for _, signal := range []os.Signal{os.Interrupt, syscall.SIGTERM} {
			w.again(t)
			locked, env := filepath.Join(w.p.Dir, "rigs", "greenhouse", rig.DescriptionName), w.p.Env
			if args == "" {
				locked = filepath.Join(w.p.Dir, "night")
				env = []string{env[0], attackedEnv + "=" + locked}
			}
			unlock, err := store.Lock(t.Context(), locked)
			if err != nil {
				t.Fatal(err)
			}
			before := w.files(t)
			c := exec.Command(w.p.Program, w.words(args)...)
			c.Dir, c.Env = w.p.Dir, append(os.Environ(), env...)
			said := untilWaiting(t, c, signal)
			if what != "accept" { // it writes its report before
				w.only(t, what, w.files(t), before)
			}
			if err := unlock(); err != nil {
				t.Error(err)
			}
			if c.ProcessState.ExitCode() != statusNone || !strings.Contains(said, "stopped before the end") {
				t.Errorf("%s, %v: status %d, said:\n%s", what, signal, c.ProcessState.ExitCode(), said)
			}
			w.wroteNoCalibration(t)
		}
	}
}

func lookLeadmark(t *testing.T) string {
	t.Helper()
	program, err := exec.LookPath("leadmark") // of testscript
	if err != nil {
		t.Fatal(err)
	}
	return program
}

// untilWaiting starts a program, signals it when it says that it waits, and returns what it says in all.
func untilWaiting(t *testing.T, c *exec.Cmd, signal os.Signal) string {
	t.Helper()
	out, err := c.StderrPipe()
	if err == nil {
		err = c.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	var said strings.Builder
	for lines := bufio.NewScanner(out); lines.Scan(); {
		said.WriteString(lines.Text() + "\n")
		if strings.Contains(lines.Text(), "waiting for it") {
			if err := c.Process.Signal(signal); err != nil {
				t.Error(err)
			}
		}
	}
	_ = c.Wait() // its status tells
	return said.String()
}

func (w *world) wroteNoCalibration(t *testing.T) {
	t.Helper()
	h, err := (rig.Store{Root: filepath.Join(w.p.Dir, "rigs")}).History("greenhouse")
	if err != nil || len(h.Entries) != 2 || len(h.Restores) != 0 {
		t.Errorf("%d calibrations, %d restores, %v", len(h.Entries), len(h.Restores), err)
	}
	c, err := runfile.LoadCorrections(filepath.Join(w.p.Dir, "night"))
	if err != nil || len(c.Text()) > 0 {
		t.Errorf("%s, %v", c.Text(), err)
	}
}

// A pipe stands in the place of each file that is read, added to or made: the command ends by
// itself, and says which.
func TestAttackOfPipes(t *testing.T) {
	w := newWorld(t, attack{}, lookLeadmark(t))
	accept := "calibrate $W/night --readings $W/readings.csv --accept"
	for _, c := range []struct{ pipe, args string }{
		{"rigs/greenhouse/calibrations.jsonl", accept},
		{"rigs/greenhouse/calibrations.jsonl", "rig restore greenhouse 1"},
		{"rigs/greenhouse/calibrations.jsonl", "rig show greenhouse"},
		{"rigs/greenhouse/rig.toml", accept},
		{"rigs/greenhouse/rig.toml", "rig restore greenhouse 1"},
		{"rigs/greenhouse/rig.toml", "rig new greenhouse"},
		{"night/run.toml", accept},
		{"night/shots.csv", accept},
		{"night/corrections.toml", accept},
		{"readings.csv", accept},
		{"night-report", accept},
		{"night-report/result.json", accept},
		{"other/result.json", accept + " --out $W/other"},
		{"other/report.html", accept + " --out $W/other"},
		{"other/readings.csv", accept + " --out $W/other"},
		{"bee.toml", "plan --subject $W/bee.toml --lag-ms 52 --spread-ms 0.8"},
		{"bee.toml", "plan --preset mason-bee --write $W/bee.toml"},
		{"ruler.pdf", "ruler --pdf $W/ruler.pdf"},
		{"bare/shoot.toml", "check $W/bare --lag-ms 38 --spread-ms 1"},
		{"bare/shoot.toml", "check $W/bare --start"},
	} {
		w.again(t)
		path := filepath.Join(w.p.Dir, filepath.FromSlash(c.pipe))
		if err := errors.Join(os.RemoveAll(path), os.MkdirAll(filepath.Dir(path), 0o777),
			syscall.Mkfifo(path, 0o666)); err != nil {
			t.Fatal(err)
		}
		said, status := w.ends(t, c.args)
		if status == 0 || status > statusWrong || !strings.Contains(said, "error: ") {
			t.Errorf("pipe %s, %s: status %d\n%s", c.pipe, c.args, status, said)
		}
		if info, err := os.Lstat(path); err != nil || info.Mode().Type() != os.ModeNamedPipe {
			t.Errorf("%s: the pipe is gone: %v", c.args, err)
		}
	}
}

// ends runs a command that must end by itself; the minute is only for the test to end where it does not.
func (w *world) ends(t *testing.T, args string) (said string, status int) {
	t.Helper()
	ctx, stop := context.WithTimeout(t.Context(), time.Minute)
	defer stop()
	c := exec.CommandContext(ctx, w.p.Program, w.words(args)...)
	c.Dir, c.Env = w.p.Dir, append(os.Environ(), w.p.Env...)
	out, _ := c.CombinedOutput() // its status tells
	if ctx.Err() != nil {
		t.Errorf("%s: hangs", args)
	}
	return string(out), c.ProcessState.ExitCode()
}

// Links are planted at every hidden name that versions up to 0.9.1 wrote to, and in the place of
// what is written: nothing elsewhere is written.
func TestAttackOfPlantedLinks(t *testing.T) {
	victim := filepath.Join(t.TempDir(), "letter.txt")
	dir := t.TempDir()
	cells := runfile.ShotCells{DropMM: new(float64)}
	*cells.DropMM = 100
	p := filepath.Join
	for _, c := range []struct {
		link string
		do   func() error
	}{
		{".shots.csv.part", func() error {
			_, err := runfile.AddShots(t.Context(), dir, runfile.Drop, []string{"a.jpg"}, cells)
			return err
		}},
		{".corrections.toml.part", func() error {
			_, _, err := runfile.Correct(t.Context(), dir, func(c runfile.Corrections) (runfile.Corrections, error) {
				return c.With(runfile.Correction{Frame: "a.jpg", LeftOut: "blurred"}), nil
			})
			return err
		}},
		{"greenhouse/.rig.toml.part", func() error { _, err := rig.Store{Root: dir}.New("greenhouse"); return err }},
		{"greenhouse/.calibrations.torn.1.part", func() error {
			writeFile(t, p(dir, "greenhouse", rig.HistoryName), []byte(`{"torn`))
			_, err := rig.Store{Root: dir}.Append(t.Context(), "greenhouse",
				rig.Entry{Accepted: time.Now(), Answer: record.Answer{Schema: record.Schema}})
			return err
		}},
		{".IMG_0001.xmp.part", func() error {
			return sidecar.WriteRating(t.Context(), p(dir, "IMG_0001.xmp"), 3, false)
		}},
		{".bee-learned.toml.part", func() error {
			_, err := shoot.WriteSubject(t.Context(), p(dir, "bee.toml"), []byte("x"))
			return err
		}},
		{fmt.Sprintf("night-report.part%d", os.Getpid()), func() error {
			return new(output.Ledger).Fill(t.Context(), output.Folder{Path: p(dir, "night-report")}, "the report",
				func(dir string) error { return os.WriteFile(p(dir, "a"), nil, 0o666) })
		}},
		{fmt.Sprintf("night1.part%d", os.Getpid()), func() error {
			_, err := drawDemo(t.Context(), &newApp(io.Discard, io.Discard).Env, p(dir, "night1"),
				func(dir string) (int, error) { return 1, os.WriteFile(p(dir, "a"), nil, 0o666) })
			return err
		}},
	} {
		writeFile(t, victim, []byte("a letter"))
		link := p(dir, filepath.FromSlash(c.link))
		if err := errors.Join(os.MkdirAll(filepath.Dir(link), 0o777), os.Symlink(victim, link)); err != nil {
			t.Fatal(err)
		}
		if err := c.do(); err != nil {
			t.Errorf("%s: %v", c.link, err)
		}
		if text, err := os.ReadFile(victim); string(text) != "a letter" {
			t.Errorf("%s: the file elsewhere holds %d bytes now, %v", c.link, len(text), err)
		}
	}
}
