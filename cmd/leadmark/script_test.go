package main

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"leadmark/vision/synth/runs"
)

func TestMain(m *testing.M) {
	if dir, who, ok := strings.Cut(os.Getenv(writerEnv), "|"); ok {
		fmt.Fprintln(os.Stderr, writeForEver(dir, who))
		os.Exit(1)
	}
	testscript.Main(m, map[string]func(){
		"leadmark": func() {
			a := newApp(os.Stdout, os.Stderr)
			if os.Getenv(smallDemo) != "" {
				a.demoRun, a.demoBees = smallestRun, smallBees
			}
			if dir := os.Getenv(attackedEnv); dir != "" {
				a.attacked()
				if filepath.IsAbs(dir) {
					os.Exit(correctOnce(a, dir))
				}
				// In this goroutine, not a supervised one: the calls of the main thread are counted.
				ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
				defer stop()
				a.LastStop = ctx
				os.Exit(a.finish(a.run(ctx, os.Args[1:])))
			}
			os.Exit(a.status(os.Args[1:]))
		},
	})
}

// smallSpec has two heights, four drops from each.
func smallSpec(seed int64) runs.RunSpec {
	r := runs.DemoRun(seed)
	r.Drops, r.Shots, r.Odd = []float64{0.1, 0.4}, 4, nil
	r.Width, r.Height = 1632, 1088
	return r
}

// smallestRun is for what needs no more than an answer.
func smallestRun(seed int64) runs.RunSpec {
	r := smallSpec(seed)
	r.Shots, r.Width, r.Height = 3, 1224, 816
	return r
}

// smallBees has a third of the frames, at half the size.
func smallBees(seed uint64) bees {
	b := demoBees(seed)
	b.Frames, b.Gone = 8, 2
	b.Set.Width, b.Set.Height, b.Scale, b.Trip = b.Set.Width/2, b.Set.Height/2, b.Scale/2,
		[2]float64{b.Trip[0] / 2, b.Trip[1] / 2}
	return b
}

// TestScripts runs the command lines of testdata/script. Besides the usual commands they have
//
//	status N leadmark ARGS...   runs the program, which must end with exit status N
//	draw DIR                    draws a small invented run: two heights, four drops from each
//	slate FILE TEXT...          draws a photograph of a slate that says TEXT
//	torn FROM TO                copies a file without the end of its last line, as a crash leaves it
//	snapshot DIR                remembers every name and byte below DIR
//	unchanged DIR               fails when anything below DIR is not as it was at the snapshot
func TestScripts(t *testing.T) {
	var trees sync.Map
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(e *testscript.Env) error {
			e.Setenv("LEADMARK_RIGS", filepath.Join(e.WorkDir, "rigs"))
			e.Setenv("XDG_CONFIG_HOME", filepath.Join(e.WorkDir, "config"))
			return nil
		},
		Condition: func(name string) (bool, error) {
			if name == "root" {
				return os.Geteuid() == 0, nil
			}
			return false, fmt.Errorf("unknown condition %s", name)
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"status": wantStatus,
			"snapshot": func(ts *testscript.TestScript, _ bool, args []string) {
				trees.Store(ts.MkAbs(args[0]), tree(ts, args[0]))
			},
			"torn": tear,
			"draw": draw,
			"slate": func(ts *testscript.TestScript, _ bool, args []string) {
				ts.Check(photographSlate(ts.MkAbs(args[0]), strings.Join(args[1:], " ")))
			},
			"unchanged": func(ts *testscript.TestScript, _ bool, args []string) {
				before, _ := trees.Load(ts.MkAbs(args[0]))
				if after := tree(ts, args[0]); before != after {
					ts.Fatalf("%s was changed:\nbefore\n%s\nafter\n%s", args[0], before, after)
				}
			},
		},
	})
}

func wantStatus(ts *testscript.TestScript, _ bool, args []string) {
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	err = ts.Exec(args[1], args[2:]...)
	got := 0
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		got = exit.ExitCode()
	} else if err != nil {
		ts.Fatalf("%v", err)
	}
	if stderr := ts.ReadFile("stderr"); strings.Contains(stderr, "goroutine ") {
		ts.Fatalf("the program broke down:\n%s", stderr)
	}
	if got != want {
		ts.Fatalf("exit status %d, want %d\nstderr:\n%s", got, want, ts.ReadFile("stderr"))
	}
}

func draw(ts *testscript.TestScript, _ bool, args []string) {
	_, err := runs.WriteRun(ts.MkAbs(args[0]), smallSpec(5))
	ts.Check(err)
}

func tear(ts *testscript.TestScript, _ bool, args []string) {
	text := strings.TrimSuffix(ts.ReadFile(args[0]), "\n")
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), []byte(text), 0o666))
}

// tree lists every file below a folder with its mode and the digest of its bytes.
func tree(ts *testscript.TestScript, dir string) string {
	var b strings.Builder
	root := ts.MkAbs(dir)
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		var digest [32]byte
		if d.Type().IsRegular() {
			text, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			digest = sha256.Sum256(text)
		}
		rel, _ := filepath.Rel(root, path)
		fmt.Fprintf(&b, "%s %s %x\n", rel, d.Type(), digest[:6])
		return nil
	})
	ts.Check(err)
	return b.String()
}
