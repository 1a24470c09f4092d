package main

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"time"
)

// study stops commands of one program.
type study struct {
	program string
	within  time.Duration
	verbose bool
	random  *rand.Rand
	drawn   string // folder with night, bees and rigs, copied for each try
}

// tally is how the tries of one command went.
type tally struct {
	tries, stopped, wrong, late int
	longest                     time.Duration
}

func (s *study) all(tries int, only string) (failures int, err error) {
	root, err := os.MkdirTemp("", "stops-*")
	if err != nil {
		return 0, err
	}
	defer os.RemoveAll(root)
	if s.drawn == "" {
		s.drawn = filepath.Join(root, "drawn")
	}
	if _, err := os.Stat(s.drawn); err != nil {
		if err := s.prepare(); err != nil {
			return 0, err
		}
	}
	fmt.Printf("%-28s %5s %8s %6s %5s %9s\n", "command", "tries", "stopped", "wrong", "late", "longest")
	for _, c := range commands() {
		if only != "" && only != c.name {
			continue
		}
		t, err := s.command(c, tries, filepath.Join(root, "try"))
		if err != nil {
			return failures, fmt.Errorf("%s: %w", c.name, err)
		}
		fmt.Printf("%-28s %5d %8d %6d %5d %7d ms\n", c.name, t.tries, t.stopped, t.wrong, t.late,
			t.longest.Milliseconds())
		failures += t.wrong + t.late
	}
	return failures, nil
}

// prepare draws what the commands work on.
func (s *study) prepare() error {
	if err := os.MkdirAll(s.drawn, 0o777); err != nil {
		return err
	}
	for _, args := range [][]string{{"rig", "new", "greenhouse"}, {"demo", "night"}, {"demo", "bees", "--shoot"}} {
		c := s.start(s.drawn, args)
		if out, err := c.CombinedOutput(); err != nil {
			return fmt.Errorf("%v: %w\n%s", args, err, out)
		}
	}
	var long strings.Builder
	long.WriteString("schema = \"leadmark/corrections/1\"\n")
	for i := range 12_000 {
		fmt.Fprintf(&long, "[[frame]]\nfile = \"IMG_%05d.JPG\"\nleave_out = \"blurred\"\n", 10_000+i)
	}
	if err := os.CopyFS(filepath.Join(s.drawn, "long"), os.DirFS(filepath.Join(s.drawn, "night"))); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(s.drawn, "long", "corrections.toml"), []byte(long.String()), 0o666)
}

func (s *study) start(dir string, args []string) *exec.Cmd {
	c := exec.Command(s.program, args...)
	c.Dir = dir
	c.Env = append(os.Environ(), "LEADMARK_RIGS="+filepath.Join(dir, "rigs"))
	return c
}

// command runs a command once to its end, for its length, and then stops it so often.
func (s *study) command(c command, tries int, dir string) (tally, error) {
	var t tally
	length := c.length
	if length == 0 {
		begun := time.Now()
		if _, err := s.try(c, dir, -1, nil); err != nil {
			return t, err
		}
		length = time.Since(begun)
	}
	for i := range tries {
		signal := os.Signal(os.Interrupt)
		if i%2 == 1 {
			signal = syscall.SIGTERM
		}
		r, err := s.try(c, dir, time.Duration(s.random.Float64()*1.02*float64(length)), signal)
		if err != nil {
			return t, err
		}
		t.tries++
		t.longest = max(t.longest, r.took)
		if r.stopped {
			t.stopped++
		}
		if len(r.wrong) > 0 {
			t.wrong++
			fmt.Printf("  %s after %v: %s\n  said: %s\n", c.name, r.after, strings.Join(r.wrong, "; "), r.said)
		} else if s.verbose && r.stopped {
			fmt.Printf("  %s after %v, in %v: %s\n", c.name, r.after.Round(time.Millisecond),
				r.took.Round(time.Millisecond), r.said)
		}
		if r.took > s.within {
			t.late++
		}
	}
	return t, nil
}

// outcome is one try.
type outcome struct {
	after, took time.Duration
	stopped     bool
	said        string
	wrong       []string
}

// try runs a command on a fresh copy and stops it after a while; below 0 it runs to its end.
func (s *study) try(c command, dir string, after time.Duration, signal os.Signal) (outcome, error) {
	o := outcome{after: after}
	if err := os.RemoveAll(dir); err != nil {
		return o, err
	}
	if err := os.CopyFS(dir, os.DirFS(s.drawn)); err != nil {
		return o, err
	}
	for _, before := range c.before {
		if out, err := s.start(dir, before).CombinedOutput(); err != nil {
			return o, fmt.Errorf("%v: %w\n%s", before, err, out)
		}
	}
	were := files(dir)
	p := s.start(dir, c.args)
	var stderr bytes.Buffer
	p.Stderr = &stderr
	if err := p.Start(); err != nil {
		return o, err
	}
	ended := make(chan error, 1)
	go func() { ended <- p.Wait() }()
	sent := false
	if after >= 0 {
		select {
		case err := <-ended:
			ended <- err
		case <-time.After(after):
			sent = p.Process.Signal(signal) == nil
			if c.twice && sent {
				time.Sleep(50 * time.Millisecond)
				_ = p.Process.Signal(signal)
			}
		}
	}
	begun := time.Now()
	err := <-ended
	if sent {
		o.took = time.Since(begun)
	}
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		return o, err
	}
	o.said = strings.TrimSpace(stderr.String())
	o.stopped = strings.Contains(o.said, "error: stopped before the end")
	changed := were.changed(files(dir))
	if after >= 0 && p.ProcessState.ExitCode() < 0 && o.said == "" && len(changed) == 0 {
		return o, nil // before the program had begun: the system ended it
	}
	if o.stopped && p.ProcessState.ExitCode() != 1 || !o.stopped && p.ProcessState.ExitCode() != 0 &&
		!(c.mayFail && p.ProcessState.ExitCode() == 1) {
		o.wrong = append(o.wrong, fmt.Sprintf("status %d, %v", p.ProcessState.ExitCode(), p.ProcessState))
	}
	if o.stopped {
		o.wrong = append(o.wrong, against(o.said, changed)...)
	}
	return o, nil
}
