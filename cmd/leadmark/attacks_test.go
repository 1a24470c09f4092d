package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"leadmark/calib/runfile"
	"leadmark/calib/store"
	"leadmark/calib/store/storetest"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/output"
)

// attackedEnv has the tests' leadmark keep to one thread and one time, so that its calls of the
// system can be counted. Where it names a folder, that run is corrected in the place of a command.
const attackedEnv = "LEADMARK_TEST_ATTACKED"

func init() {
	if os.Getenv(attackedEnv) != "" {
		runtime.LockOSThread()
	}
}

// attacked sets the app of an attacked program up.
func (a *app) attacked() {
	a.Now = func() time.Time { return time.Date(2026, 5, 3, 18, 4, 0, 0, time.UTC) }
	a.demoRun, a.demoBees = smallestRun, smallBees
}

// correctOnce corrects a run as the desk does.
func correctOnce(a *app, dir string) int {
	ctx := store.WithPatience(context.Background(), command.Patience(a.Stderr))
	ctx, stop := signal.NotifyContext(ctx, os.Interrupt, syscall.SIGTERM)
	defer stop()
	_, _, err := runfile.Correct(ctx, dir, func(c runfile.Corrections) (runfile.Corrections, error) {
		return c.With(runfile.Correction{Frame: "IMG_0001.JPG", LeftOut: "blurred"}), nil
	})
	if errors.Is(err, context.Canceled) {
		err = output.StoppedError{Err: err, Told: "nothing was changed"}
	}
	explain(os.Stderr, err)
	return exitStatus(err)
}

// attack is a command that writes, on a world of files.
type attack struct {
	name    string
	args    string   // $W is the world
	correct string   // the run that is corrected in the place of args
	whole   []string // folders that appear whole or not at all
	costly  bool     // looks at pictures
	drops   bool     // needs a run of drops, drawn
}

func attacks() []attack {
	return []attack{
		{name: "rig new", args: "rig new hedge"},
		{name: "accept", args: "calibrate $W/night --readings $W/readings.csv --accept",
			whole: []string{"night-report"}},
		{name: "restore", args: "rig restore greenhouse 1 --note back"},
		{name: "plan --write", args: "plan --preset mason-bee --write $W/bee2.toml"},
		{name: "calibrate --start", args: "calibrate $W/bare --start --travel down"},
		{name: "check --start", args: "check $W/bare --start"},
		{name: "corrections", correct: "night"},
		{name: "ruler", args: "ruler --svg $W/ruler.svg"},
		{name: "check --xmp", args: "check $W/bees --lag-ms 38.4 --spread-ms 0.7 --xmp --learn --cutouts " +
			"$W/cut --force", whole: []string{"bees-check"}, costly: true},
	}
}

// TestAttacks kills each command that writes before its calls of the system that change files, and
// answers them that the disk is full. Every file is as it was or as the command makes it, what a
// message says is so, and the same command then works and leaves nothing behind. Two calls of each
// by default; LEADMARK_ATTACKS says how many (scripts/attacks: all).
func TestAttacks(t *testing.T) {
	storetest.NeedStrace(t)
	most, err := strconv.Atoi(os.Getenv("LEADMARK_ATTACKS"))
	asked := err == nil
	if !asked {
		most = 2
	}
	program := lookLeadmark(t)
	for _, a := range attacks() {
		if a.costly && !asked {
			continue
		}
		t.Run(a.name, func(t *testing.T) {
			w := newWorld(t, a, program)
			calls := slices.DeleteFunc(w.p.Calls(t), func(c storetest.Call) bool { return !c.Changes() })
			tries := 0
			w.learn(t)
			for i := 0; i < len(calls); i += (len(calls) + most - 1) / most {
				w.try(t, calls[i], "signal=KILL")
				w.try(t, calls[i], "error=ENOSPC")
				tries += 2
			}
			t.Logf("%d calls, %d tries: %d killed, %d told of the disk, %d done all the same", len(calls), tries,
				w.killed, w.told, tries-w.killed-w.told)
			if w.missed > 1+w.killed/20 {
				t.Errorf("%d of %d kills came too late", w.missed, w.missed+w.killed)
			}
		})
	}
}

// world is a folder of files that a command works on, over and over from the same state.
type world struct {
	attack
	p                   storetest.Traced
	begin               string          // a copy of what there is before
	before, once, twice map[string]bool // files with their content before, after the command, and after it again
	killed, told        int
	// kills that the program ended before: the runtime makes a call or two more in one run than in
	// another
	missed int
}

func newWorld(t *testing.T, a attack, program string) *world {
	t.Helper()
	root := t.TempDir()
	dir := filepath.Join(root, "world")
	w := &world{attack: a, begin: filepath.Join(root, "begin"), p: storetest.Traced{Program: program, Dir: dir,
		Env: []string{"LEADMARK_RIGS=" + filepath.Join(dir, "rigs"), attackedEnv + "=-"}}}
	w.build(t)
	if err := os.CopyFS(w.begin, os.DirFS(dir)); err != nil {
		t.Fatal(err)
	}
	w.p.Args = w.words(a.args)
	if a.correct != "" {
		w.p.Env[1] = attackedEnv + "=" + filepath.Join(dir, a.correct)
	}
	return w
}

func (w *world) words(args string) []string {
	return strings.Fields(strings.ReplaceAll(args, "$W", w.p.Dir))
}

// build makes a rig with two calibrations, a run read by hand, a folder without descriptions and a
// shoot.
func (w *world) build(t *testing.T) {
	t.Helper()
	for _, dir := range []string{"night", "bare"} {
		if err := os.MkdirAll(filepath.Join(w.p.Dir, dir), 0o777); err != nil {
			t.Fatal(err)
		}
	}
	writeFile(t, filepath.Join(w.p.Dir, "bare", "IMG_0001.JPG"), blackJPEG(t))
	writeFile(t, filepath.Join(w.p.Dir, "night", "run.toml"), []byte("rig = \"greenhouse\"\nmethod = \"drop\"\n"))
	table := "frame,advance_mm,u_mm,drop_mm\n"
	for i, at := range []float64{88.331, 85.851, 87.737, 87.643, 116.735, 117.748, 117.477, 120.670, 158.988,
		162.714, 163.150, 164.710} {
		table += fmt.Sprintf("IMG_%04d.JPG,%v,0.06,%d\n", i+1, at, 100<<(i/4))
	}
	writeFile(t, filepath.Join(w.p.Dir, "readings.csv"), []byte(table))
	w.must(t, "rig new greenhouse")
	w.must(t, "calibrate $W/night --readings $W/readings.csv --accept --note first")
	w.must(t, "calibrate $W/night --readings $W/readings.csv --accept --note second --out $W/other")
	if err := os.RemoveAll(filepath.Join(w.p.Dir, "night-report")); err != nil {
		t.Fatal(err)
	}
	switch {
	case w.drops:
		w.must(t, "demo $W/drops")
	case w.costly:
		w.must(t, "demo $W/bees --shoot")
	}
}

// run runs the command, or another, undisturbed.
func (w *world) run(args []string) (said string, status int) {
	c := exec.Command(w.p.Program, args...)
	c.Dir, c.Env = w.p.Dir, append(os.Environ(), w.p.Env...)
	out, err := c.CombinedOutput()
	if err != nil {
		return string(out), c.ProcessState.ExitCode()
	}
	return string(out), 0
}

func (w *world) must(t *testing.T, args string) {
	t.Helper()
	if said, status := w.run(w.words(args)); status != 0 {
		t.Fatalf("%s: status %d\n%s", args, status, said)
	}
}

// again puts the world back as it was.
func (w *world) again(t *testing.T) {
	t.Helper()
	if err := os.RemoveAll(w.p.Dir); err != nil {
		t.Fatal(err)
	}
	if err := os.CopyFS(w.p.Dir, os.DirFS(w.begin)); err != nil {
		t.Fatal(err)
	}
}

// learn sees what the command does undisturbed, and a second time.
func (w *world) learn(t *testing.T) {
	t.Helper()
	w.again(t)
	w.before = w.files(t)
	if said, status := w.run(w.p.Args); status != 0 {
		t.Fatalf("status %d\n%s", status, said)
	}
	w.once = w.files(t)
	w.run(w.p.Args)
	w.twice = w.files(t)
	if maps.Equal(w.before, w.once) {
		t.Fatal("the command changes nothing")
	}
}

// files lists all files with their content. What is only remembered is left out: it may be lost at
// any time.
func (w *world) files(t *testing.T) map[string]bool {
	t.Helper()
	all := map[string]bool{}
	err := filepath.WalkDir(w.p.Dir, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && strings.HasSuffix(d.Name(), ".seen"):
			return fs.SkipDir
		case strings.HasSuffix(d.Name(), ".part") && d.IsDir():
			all[path+"\x00"] = true
			return fs.SkipDir
		case d.IsDir():
			return nil
		}
		text, err := os.ReadFile(path)
		if strings.HasSuffix(path, ".part") {
			text = nil
		}
		all[path+"\x00"+string(text)] = true
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// try stops the command once and looks at what is there, then runs it again.
func (w *world) try(t *testing.T, at storetest.Call, how string) {
	t.Helper()
	w.again(t)
	said, killed, err := w.p.Stop(t, at, how)
	at.Text = how + " at " + at.Text
	found := w.files(t)
	switch {
	case killed:
		w.killed++
	case strings.HasPrefix(how, "signal"):
		w.missed++
	case err != nil:
		w.told++
		w.truth(t, at.Text, said, found)
	default:
		w.only(t, at.Text, found, w.once)
	}
	w.only(t, at.Text, found, w.before, w.once)
	for _, dir := range w.whole {
		w.wholeFolder(t, at.Text, dir, found)
	}
	again, status := w.run(w.p.Args)
	if status != 0 && !strings.Contains(again, "already") {
		t.Errorf("%s: afterwards status %d: %s", at.Text, status, again)
	}
	found = w.files(t)
	w.only(t, at.Text+", and then again", found, w.once, w.twice)
	for f := range found {
		if name, _, _ := strings.Cut(f, "\x00"); strings.HasSuffix(name, ".part") {
			t.Errorf("%s: %s is left after the next run", at.Text, name)
		}
	}
}

// only wants every file to be as in one of the states; parts of killed programs may lie about.
func (w *world) only(t *testing.T, at string, found map[string]bool, states ...map[string]bool) {
	t.Helper()
	for f := range found {
		name, text, _ := strings.Cut(f, "\x00")
		if !strings.HasSuffix(name, ".part") && !slices.ContainsFunc(states,
			func(s map[string]bool) bool { return s[f] }) {
			t.Errorf("%s: %s is neither old nor new: %d bytes", at, name, len(text))
		}
	}
	for f := range w.before { // nothing that was there is lost
		name, _, _ := strings.Cut(f, "\x00")
		if !slices.ContainsFunc(slices.Collect(maps.Keys(found)),
			func(g string) bool { return strings.HasPrefix(g, name+"\x00") }) {
			t.Errorf("%s: %s is gone", at, name)
		}
	}
}

// wholeFolder wants all files of a folder, or none.
func (w *world) wholeFolder(t *testing.T, at, dir string, found map[string]bool) {
	t.Helper()
	want, have := 0, 0
	for f := range w.once {
		if strings.HasPrefix(f, filepath.Join(w.p.Dir, dir)+"/") {
			want++
			if found[f] {
				have++
			}
		}
	}
	if have != 0 && have != want || want == 0 {
		t.Errorf("%s: %s has %d of %d files", at, dir, have, want)
	}
}

// truth holds a message against the files.
func (w *world) truth(t *testing.T, at, said string, found map[string]bool) {
	t.Helper()
	asItWas := regexp.MustCompile(`error: (\S+): could not be written and is as it was`)
	for _, m := range asItWas.FindAllStringSubmatch(said, -1) {
		for f := range found {
			if strings.HasPrefix(f, m[1]+"\x00") && !w.before[f] {
				t.Errorf("%s: %s was changed, and what is said is: %s", at, m[1], said)
			}
		}
	}
	if !strings.Contains(said, "error: ") {
		t.Errorf("%s: it failed without a word: %s", at, said)
	}
}
