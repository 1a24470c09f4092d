package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
)

// tree is the files of one commit in a folder of their own, and the folder of what was built of them.
type tree struct{ name, says, dir, bin, version string }

// workingTree is the name of the files as they lie there, committed or not.
const workingTree = "."

// places are where a program or a script lies in the tree of one commit or another: the first that
// is there is taken.
func places(name string) []string {
	return map[string][]string{
		"leadmark":    {"cmd/leadmark"},
		"drawruns":    {"scripts/drawruns"},
		"drawshoot":   {"scripts/drawshoot"},
		"readstudy":   {"scripts/readstudy"},
		"checkstudy":  {"scripts/checkstudy"},
		"loopstudy":   {"scripts/loopstudy"},
		"codesearch":  {"scripts/codesearch"},
		"coverage":    {"scripts/coverage"},
		"learnstudy":  {"scripts/learnstudy"},
		"brokenstudy": {"scripts/mutants"},
	}[name]
}

// checkOut copies a commit's files, without git's own, to a folder.
func checkOut(ctx context.Context, root, commit, dir string) (*tree, error) {
	t := &tree{name: filepath.Base(dir), dir: dir, bin: dir + "-bin"}
	if err := errors.Join(os.Mkdir(t.dir, 0o777), os.Mkdir(t.bin, 0o777)); err != nil {
		return nil, err
	}
	take := `git archive --format=tar "$1" | tar -x -C "$2"`
	about := []string{"log", "-1", "--format=%h %s", commit}
	if commit == workingTree {
		take = `git ls-files -z -co --exclude-standard | while IFS= read -r -d '' f; do [ ! -e "$f" ] || printf '%s\0' "$f"; done | tar -c --null -T - | tar -x -C "$2"`
		about = []string{"log", "-1", "--format=the working tree on %h", "HEAD"}
	} else if err := call(ctx, root, "git", "rev-parse", "--verify", "--quiet",
		commit+"^{commit}").failure(); err != nil {
		return nil, fmt.Errorf("there is no commit %q\nhint: name one as git does, or . for the working tree", commit)
	}
	said := call(ctx, root, "git", about...)
	t.says = strings.TrimSpace(said.stdout.String())
	taken := call(ctx, root, "bash", "-o", "pipefail", "-c", take, "bash", commit, dir)
	return t, errors.Join(said.failure(), taken.failure())
}

// place finds a program or script of this tree; empty where it has none.
func (t *tree) place(name string) string {
	for _, p := range places(name) {
		if _, err := os.Stat(filepath.Join(t.dir, p)); err == nil {
			return p
		}
	}
	return ""
}

// build builds the program and what of the scripts is written in Go, by the tree's own environment.
func (t *tree) build(ctx context.Context, names ...string) error {
	args := []string{"-c", `set -eu; . scripts/env.sh; prepare "$PWD"; go build -buildvcs=false -o "$0/" "$@"`, t.bin}
	for _, name := range names {
		if p := t.place(name); p != "" {
			args = append(args, "./"+p)
		}
	}
	if err := call(ctx, t.dir, "bash", args...).failure(); err != nil {
		return fmt.Errorf("%s (%s) cannot be built: %w", t.name, t.says, err)
	}
	said := call(ctx, t.bin, filepath.Join(t.bin, "leadmark"), "version")
	first, _, _ := strings.Cut(said.stdout.String(), "\n")
	t.version = strings.TrimPrefix(first, "leadmark ")
	return said.failure()
}

// command is how a program or script of the tree is called; nil where the tree has none. Scripts
// that are no Go are started where they lie.
func (t *tree) command(name string) []string {
	p := t.place(name)
	if p == "" {
		return nil
	}
	if info, err := os.Stat(filepath.Join(t.dir, p)); err == nil && info.IsDir() {
		return []string{filepath.Join(t.bin, filepath.Base(p))}
	}
	return []string{filepath.Join(t.dir, p)}
}

// outcome is what a command printed and how it ended.
type outcome struct {
	stdout, stderr bytes.Buffer
	status         string // "exit status 0" where all was well
}

func (o *outcome) failure() error {
	if o.status == "exit status 0" {
		return nil
	}
	return fmt.Errorf("%s\n%s", o.status, strings.TrimSpace(o.stderr.String()))
}

// call runs a command to its end. When it is stopped all that it started is stopped too.
func call(ctx context.Context, dir, name string, args ...string) *outcome {
	return callWith(ctx, nil, dir, name, args...)
}

func callWith(ctx context.Context, env []string, dir, name string, args ...string) *outcome {
	var o outcome
	cmd := exec.CommandContext(ctx, name, args...)
	cmd.Dir, cmd.Stdout, cmd.Stderr = dir, &o.stdout, &o.stderr
	cmd.Env = slices.Concat(os.Environ(), []string{"TZ=UTC", "LC_ALL=C.UTF-8", "LEADMARK_RIGS="}, env)
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	cmd.Cancel = func() error { return syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL) }
	o.status = "exit status 0"
	if err := cmd.Run(); err != nil {
		o.status = err.Error()
	}
	return &o
}

// keep writes an outcome into a folder, as three files.
func (o *outcome) keep(dir, name string) error {
	err := os.MkdirAll(dir, 0o777)
	for ext, text := range map[string][]byte{".stdout": o.stdout.Bytes(), ".stderr": o.stderr.Bytes(),
		".status": []byte(o.status)} {
		err = errors.Join(err, os.WriteFile(filepath.Join(dir, name+ext), text, 0o666))
	}
	return err
}

// filesOf lists the files of a folder by their paths in it, but for what is remembered of runs.
func filesOf(dir string) ([]string, error) {
	var out []string
	err := filepath.WalkDir(dir, func(p string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case e.IsDir() && strings.HasPrefix(e.Name(), ".") && strings.HasSuffix(e.Name(), ".seen"):
			return filepath.SkipDir
		case e.IsDir():
			return nil
		}
		p, err = filepath.Rel(dir, p)
		out = append(out, p)
		return err
	})
	return out, err
}
