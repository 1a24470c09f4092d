// Command comparecommits compares what two commits of leadmark write and print on the same
// pictures, and how their studies come out, for developers; scripts/compare says how it is called.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"leadmark/fit/parallel"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"syscall"
	"time"

	"github.com/spf13/pflag"
)

// options are what a comparison is asked for.
type options struct {
	base, head, drawnBy string
	leaveOut            []string
	short               bool
	most                int
}

// runs are the numbers of the drawn runs: short, a fall, a push and a run with two flashes.
func (o options) runs() []int {
	if o.short {
		return []int{1, 7, 12}
	}
	return []int{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12}
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	same, err := run(ctx, os.Args[1:], os.Stdout, os.Stderr)
	switch {
	case ctx.Err() != nil:
		fmt.Fprintln(os.Stderr, "stopped before the end: what is not named above was not compared")
		os.Exit(2)
	case err != nil:
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(2)
	case !same:
		os.Exit(1)
	}
}

func parse(args []string) (o options, err error) {
	f := pflag.NewFlagSet("compare", pflag.ContinueOnError)
	f.StringSliceVar(&o.leaveOut, "leave-out", nil,
		"keys, columns or patterns of files to leave out; version: the program's own")
	f.BoolVar(&o.short, "short", false, "the demo, three runs, one seed each")
	f.StringVar(&o.drawnBy, "drawn-by", "", "the commit that draws what both look at (default: BASE)")
	f.IntVar(&o.most, "most", 20, "differences printed of a file; 0 for all")
	if err := f.Parse(args); err != nil {
		return o, err
	}
	switch f.NArg() {
	case 1:
		o.base, o.head = f.Arg(0), "HEAD"
	case 2:
		o.base, o.head = f.Arg(0), f.Arg(1)
	default:
		return o, errors.New("name one commit or two\nhint: scripts/compare BASE [HEAD]; . is the working tree")
	}
	return o, nil
}

// run says whether all that was compared is the same.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) (same bool, err error) {
	o, err := parse(args)
	if errors.Is(err, pflag.ErrHelp) {
		return true, nil
	}
	if err != nil {
		return false, err
	}
	root, err := os.Getwd()
	if err != nil {
		return false, err
	}
	dir, err := os.MkdirTemp("", "compare-")
	if err != nil {
		return false, err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(dir)) }()
	b := &bench{dir: dir, began: time.Now(), o: o}
	say := func(text string) { fmt.Fprintf(stderr, "%4.0f s  %s\n", time.Since(b.began).Seconds(), text) }
	if err := b.build(ctx, root); err != nil {
		return false, err
	}
	for _, t := range b.trees() {
		fmt.Fprintf(stdout, "%-5s %s\n", t.name, t.says)
	}
	say("built; drawing")
	if err := errors.Join(b.draw(ctx), ctx.Err()); err != nil {
		return false, err
	}
	list, err := b.all(ctx, root, say)
	if err != nil {
		for _, v := range list { // what was done before the end is worth knowing after an hour
			v.tell(stdout, o.most)
		}
		return false, err
	}
	var used syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_CHILDREN, &used); err == nil {
		say(fmt.Sprintf("compared, with %d s of processor time", used.Utime.Sec+used.Stime.Sec))
	}
	return tell(stdout, list, o.most), nil
}

// build checks out and builds the trees, beside what is shared with them where that is at hand.
func (b *bench) build(ctx context.Context, root string) error {
	shared, err := filepath.Abs(filepath.Join(root, "..", "shared"))
	if _, gone := os.Stat(shared); err == nil && gone == nil {
		err = os.Symlink(shared, filepath.Join(b.dir, "shared"))
	}
	if err != nil {
		return err
	}
	commits := []string{b.o.base, b.o.head}
	if b.o.drawnBy != "" && b.o.drawnBy != b.o.base {
		commits = append(commits, b.o.drawnBy)
	}
	trees := make([]*tree, len(commits))
	err = parallel.Try(ctx, len(commits), 0, func(ctx context.Context, i int) error {
		t, err := checkOut(ctx, root, commits[i], filepath.Join(b.dir, []string{"base", "head", "drawer"}[i]))
		if err != nil {
			return err
		}
		trees[i] = t
		return t.build(ctx, "leadmark", "drawruns", "drawshoot", "readstudy", "checkstudy", "loopstudy", "codesearch")
	})
	if err != nil {
		return err
	}
	b.sides, b.drawn = [2]*tree{trees[0], trees[1]}, trees[0]
	if len(trees) > 2 {
		b.drawn = trees[2]
	}
	return nil
}

// all does every item, and says what is not at hand.
func (b *bench) all(ctx context.Context, root string, say func(string)) ([]verdict, error) {
	first, runs, err := b.drawing()
	if err != nil {
		return nil, err
	}
	var photographs []string
	for _, name := range []string{"rulers", "rulers-more"} {
		path := filepath.Join(root, "..", "shared", name)
		if _, err := os.Stat(path); err == nil {
			photographs = append(photographs, path)
		} else {
			first.notes = append(first.notes, "no photographs at hand in ../shared/"+name)
		}
	}
	if b.o.short {
		first.notes = append(first.notes, "short: nine runs, learnstudy, broken pictures, the photographs "+
			"and the second seeds are left out")
		photographs = nil
	}
	todo := append(items(runs, photographs), studies(b.o.short)...)
	list := make([]verdict, len(todo))
	err = parallel.Try(ctx, len(todo), 0, func(ctx context.Context, i int) (err error) {
		list[i], err = b.item(ctx, todo[i])
		if err == nil {
			say(fmt.Sprintf("%s: %d of %d the same", list[i].name, list[i].same, list[i].written))
		}
		return err
	})
	done := slices.DeleteFunc(list, func(v verdict) bool { return v.name == "" })
	return append([]verdict{first}, done...), err
}
