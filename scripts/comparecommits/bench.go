package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"
)

// bench is the temporary folder in which everything is built, drawn, run and kept:
//
//	base, head       the trees, and base-bin, head-bin what was built
//	drawn/TREE       what a tree drew
//	at/ITEM          where an item is worked on, first by base, then by head
//	done/TREE/ITEM   what is there afterwards
type bench struct {
	dir   string
	sides [2]*tree
	drawn *tree
	began time.Time
	o     options
}

// verdict is how an item came out.
type verdict struct {
	name          string
	written, same int // files that the programs wrote, and of them the same on both sides
	tables        int // of those written: CSV
	inputs        int // files that were there before and are the same on both sides
	leftOut       int // values and files left out by name
	files         []fileDifference
	notes         []string
}

type fileDifference struct {
	file string
	list []difference
}

// inParallel does jobs, as many at once as there are processors, and stops at the first that fails.
func inParallel(ctx context.Context, n int, job func(ctx context.Context, i int) error) error {
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	var all sync.WaitGroup
	free := make(chan struct{}, runtime.NumCPU())
	for i := range n {
		free <- struct{}{}
		all.Go(func() {
			defer func() { <-free }()
			if ctx.Err() != nil {
				return
			}
			if err := job(ctx, i); err != nil {
				stop(err)
			}
		})
	}
	all.Wait()
	return context.Cause(ctx)
}

// do runs the steps of an item by one tree in a folder, and keeps what they print there.
func (t *tree) do(ctx context.Context, dir string, env []string, number int, s step) error {
	out := &outcome{status: "not in this commit"}
	if command := t.command(s[0]); command != nil {
		out = callWith(ctx, env, dir, command[0], append(command[1:], s[1:]...)...)
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	words := strings.NewReplacer("/", "_", " ", "_").Replace(strings.Join(s[:min(len(s), 3)], " "))
	return out.keep(filepath.Join(dir, "printed"), fmt.Sprintf("%02d-%s", number, words))
}

// draw lets the trees draw, each into a folder of its own.
func (b *bench) draw(ctx context.Context) error {
	compared, material := drawings(b.o.short, b.o.runs())
	type job struct {
		by     *tree
		number int
		step   step
	}
	var jobs []job
	for _, t := range b.trees() {
		if err := os.MkdirAll(filepath.Join(b.dir, "drawn", t.name), 0o777); err != nil {
			return err
		}
		list := compared
		if t == b.drawn {
			list = slices.Concat(compared, material)
		}
		for i, s := range list {
			jobs = append(jobs, job{t, i, s})
		}
	}
	return inParallel(ctx, len(jobs), func(ctx context.Context, i int) error {
		j := jobs[i]
		return j.by.do(ctx, filepath.Join(b.dir, "drawn", j.by.name), nil, j.number, j.step)
	})
}

// settle gives the drawn runs their names, out of the folder that drawruns made for each.
func (b *bench) settle() error {
	for _, n := range b.o.runs() {
		to := filepath.Join(b.dir, "drawn", b.drawn.name, runName(n))
		found, _ := filepath.Glob(to + ".drawn/*")
		if len(found) != 1 {
			return fmt.Errorf("run %d was not drawn by %s: %d folders in its place", n, b.drawn.says, len(found))
		}
		if err := os.Rename(found[0], to); err != nil {
			return err
		}
	}
	return nil
}

func (b *bench) trees() []*tree {
	all := []*tree{b.sides[0], b.sides[1]}
	if !slices.Contains(all, b.drawn) {
		all = append(all, b.drawn)
	}
	return all
}

// drawing compares what both drew of the same.
func (b *bench) drawing() (verdict, error) {
	compared, material := drawings(b.o.short, b.o.runs())
	v, err := b.compare("drawing", false, "drawn/%s", nil, func(file string) bool {
		top, rest, _ := strings.Cut(file, "/")
		if top == "printed" {
			number := 0
			_, err := fmt.Sscanf(rest, "%d-", &number)
			return err == nil && number < len(compared)
		}
		return slices.ContainsFunc(compared, func(s step) bool { return slices.Contains(s, top) })
	})
	if len(v.files) > 0 {
		v.notes = append(v.notes, fmt.Sprintf("the drawing itself changed: all below is over what %s draws", b.drawn.name))
	}
	if len(material) > 0 {
		v.notes = append(v.notes, fmt.Sprintf("%d drawings were made by %s alone", len(material), b.drawn.name))
	}
	return v, err
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
			if err := t.do(ctx, at, it.env, i, s); err != nil {
				return verdict{}, err
			}
		}
		to := filepath.Join(b.dir, "done", t.name)
		if err := errors.Join(os.MkdirAll(to, 0o777), os.Rename(at, filepath.Join(to, dir))); err != nil {
			return verdict{}, err
		}
	}
	v, err := b.compare(it.name, it.study, "done/%s/"+dir, given, nil)
	return v, errors.Join(err, os.RemoveAll(filepath.Join(b.dir, "done", "base", dir)), os.RemoveAll(filepath.Join(b.dir, "done", "head", dir)))
}

// prepare makes an item's folder: copies of its material, with the times of the files, and its own files.
func (b *bench) prepare(ctx context.Context, it item, at string) error {
	if err := os.MkdirAll(at, 0o777); err != nil {
		return err
	}
	from := slices.Clone(it.outside)
	for _, m := range it.material {
		from = append(from, filepath.Join(b.dir, "drawn", b.drawn.name, m))
	}
	for _, f := range from {
		copied := call(ctx, b.dir, "cp", "-r", "--preserve=timestamps", "--no-preserve=mode", f, at)
		if err := copied.failure(); err != nil {
			return fmt.Errorf("%s: what is to be looked at is not there: %w", it.name, err)
		}
	}
	for name, text := range it.files {
		path := filepath.Join(at, filepath.FromSlash(name))
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o777), os.WriteFile(path, []byte(text), 0o666)); err != nil {
			return err
		}
	}
	return nil
}

// compare holds a folder of both sides against each other, file by file: those that were given are counted apart; with
// want, those files alone.
func (b *bench) compare(name string, study bool, folder string, given []string, want func(string) bool) (verdict, error) {
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
		if want != nil && !want(file) {
			continue
		}
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

func presence(err error) string {
	if err != nil {
		return absent
	}
	return "(there)"
}

func (v *verdict) add(file string, list []difference, leftOut int) {
	v.written++
	v.leftOut += leftOut
	if filepath.Ext(file) == ".csv" {
		v.tables++
	}
	if len(list) == 0 {
		v.same++
		return
	}
	v.files = append(v.files, fileDifference{file, list})
}

// look notes what failed on both sides alike, so that it does not pass for compared.
func (v *verdict) look(file string, base, head []byte) {
	if filepath.Ext(file) != ".status" || !bytes.Equal(base, head) || string(base) == "exit status 0" {
		return
	}
	v.notes = append(v.notes, fmt.Sprintf("%s: %s on both sides", strings.TrimSuffix(filepath.Base(file), ".status"), base))
}
