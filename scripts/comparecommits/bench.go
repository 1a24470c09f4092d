package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"leadmark/fit/parallel"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// bench is the temporary folder in which everything is built, drawn, run and kept:
//
//	base, head       the trees, and base-bin, head-bin what was built
//	drawn/TREE/both  what both draw, to be compared; drawn/TREE/runs the runs
//	at/ITEM          where an item is worked on, first by base, then by head
//	done/TREE/ITEM   what is there afterwards
type bench struct {
	dir   string
	sides [2]*tree
	drawn *tree
	began time.Time
	o     options
}

// do runs the steps of an item by one tree in a folder, and keeps what they print there.
func (t *tree) do(ctx context.Context, dir string, env []string, number int, s step) (*outcome, error) {
	out := &outcome{status: "not in this commit"}
	if command := t.command(s[0]); command != nil {
		out = callWith(ctx, env, dir, command[0], append(command[1:], s[1:]...)...)
	}
	if ctx.Err() != nil {
		return out, ctx.Err()
	}
	words := strings.NewReplacer("/", "_", " ", "_").Replace(strings.Join(s[:min(len(s), 3)], " "))
	return out, out.keep(filepath.Join(dir, "printed"), fmt.Sprintf("%02d-%s", number, words))
}

// draw lets the trees draw: what is compared each into drawn/TREE/both, the runs one alone into
// drawn/TREE/runs.
func (b *bench) draw(ctx context.Context) error {
	type job struct {
		by     *tree
		folder string
		number int
		step   step
	}
	var jobs []job
	compared, alone := drawings(b.o.short, b.o.runs())
	for _, t := range b.trees() {
		for i, s := range compared {
			jobs = append(jobs, job{t, "both", i, s})
		}
	}
	for i, s := range alone {
		jobs = append(jobs, job{b.drawn, "runs", i, s})
	}
	return parallel.Try(ctx, len(jobs), 0, func(ctx context.Context, i int) error {
		j := jobs[i]
		dir := filepath.Join(b.dir, "drawn", j.by.name, j.folder)
		if err := os.MkdirAll(dir, 0o777); err != nil {
			return err
		}
		out, err := j.by.do(ctx, dir, nil, j.number, j.step)
		if err == nil && j.by == b.drawn {
			err = out.failure() // without its pictures nothing can be compared
		}
		return err
	})
}

func (b *bench) trees() []*tree {
	all := []*tree{b.sides[0], b.sides[1]}
	if !slices.Contains(all, b.drawn) {
		all = append(all, b.drawn)
	}
	return all
}

// drawing compares what both drew of the same, and lists the runs that one drew alone.
func (b *bench) drawing() (v verdict, runs []string, err error) {
	v, err = b.compare("drawing", false, "drawn/%s/both", nil)
	if len(v.files) > 0 {
		v.notes = append(v.notes, fmt.Sprintf("the drawing itself changed: all below is over what %s draws",
			b.drawn.name))
	}
	runs, _ = filepath.Glob(filepath.Join(b.dir, "drawn", b.drawn.name, "runs", "[0-9]*"))
	if len(runs) != len(b.o.runs()) {
		return v, nil, fmt.Errorf("%s (%s) drew %d runs of %d", b.drawn.name, b.drawn.says, len(runs), len(b.o.runs()))
	}
	return v, runs, err
}

// item lets both trees do an item in the same place, one after the other, and compares.
func (b *bench) item(ctx context.Context, it item) (verdict, error) {
	dir := strings.ReplaceAll(it.name, " ", "-")
	at := filepath.Join(b.dir, "at", dir)
	var given []string
	for _, t := range b.sides {
		if err := b.prepare(ctx, it, at); err != nil {
			return verdict{}, err
		}
		var err error
		if given, err = filesOf(at); err != nil {
			return verdict{}, err
		}
		for i, s := range it.steps {
			if _, err := t.do(ctx, at, it.env, i, s); err != nil {
				return verdict{}, err
			}
		}
		to := filepath.Join(b.dir, "done", t.name)
		if err := errors.Join(os.MkdirAll(to, 0o777), os.Rename(at, filepath.Join(to, dir))); err != nil {
			return verdict{}, err
		}
	}
	v, err := b.compare(it.name, it.study, "done/%s/"+dir, given)
	return v, errors.Join(err, os.RemoveAll(filepath.Join(b.dir, "done", "base", dir)),
		os.RemoveAll(filepath.Join(b.dir, "done", "head", dir)))
}

// prepare makes an item's folder: copies of its material, with the times of the files, and its own
// files.
func (b *bench) prepare(ctx context.Context, it item, at string) error {
	if err := os.MkdirAll(at, 0o777); err != nil {
		return err
	}
	for _, f := range it.material {
		if !filepath.IsAbs(f) {
			f = filepath.Join(b.dir, "drawn", b.drawn.name, "both", f)
		}
		copied := call(ctx, b.dir, "cp", "-r", "--preserve=timestamps", "--no-preserve=mode", f, at)
		if err := copied.failure(); err != nil {
			return fmt.Errorf("%s: what is to be looked at is not there: %w", it.name, err)
		}
	}
	for name, text := range it.files {
		path := filepath.Join(at, filepath.FromSlash(name))
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o777),
			os.WriteFile(path, []byte(text), 0o666)); err != nil {
			return err
		}
	}
	return nil
}

// compare holds a folder of both sides against each other, file by file; those that were given are
// counted apart.
func (b *bench) compare(name string, study bool, folder string, given []string) (verdict, error) {
	base, head := filepath.Join(b.dir, fmt.Sprintf(folder, "base")), filepath.Join(b.dir, fmt.Sprintf(folder, "head"))
	v := verdict{name: name}
	r := rules{leaveOut: b.o.leaveOut, from: b.began, to: time.Now(), study: study}
	for i, t := range b.sides {
		r.own[i] = []string{t.dir, t.bin}
		if slices.Contains(b.o.leaveOut, "version") {
			r.own[i] = append(r.own[i], t.version)
		}
	}
	a, err := filesOf(base)
	c, err2 := filesOf(head)
	if err := errors.Join(err, err2); err != nil {
		return v, err
	}
	all := slices.Compact(slices.Sorted(slices.Values(slices.Concat(a, c))))
	for _, file := range all {
		if r.leavesOut(file) {
			v.leftOut++
			continue
		}
		x, err := os.ReadFile(filepath.Join(base, file))
		y, err2 := os.ReadFile(filepath.Join(head, file))
		if err != nil || err2 != nil {
			v.add(file, []difference{apart("the file", presence(err), presence(err2))}, 0)
			continue
		}
		if slices.Contains(given, file) && bytes.Equal(x, y) {
			v.inputs++
			continue
		}
		list, leftOut := r.compare(file, x, y)
		v.add(file, list, leftOut)
		v.look(file, x, y)
	}
	return v, nil
}
