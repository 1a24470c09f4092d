package main

import (
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

type options struct {
	list, trials bool
	frames       int
	seed         uint64
	work         string // folder
	against      string // folder of another pass
	photographs  string
	processes    int
	most         int // frames of a trial
}

func main() {
	var o options
	flag.BoolVar(&o.list, "list", false, "print each number")
	flag.IntVar(&o.frames, "pass", 0, "log how the numbers decide on so many frames a class")
	flag.Uint64Var(&o.seed, "seed", 0, "seed of the frames; there is no usual one")
	flag.BoolVar(&o.trials, "trials", false, "after the pass, try without each, and with each varied")
	flag.StringVar(&o.work, "work", "", "folder to work in, where frames that were drawn stay; a temporary one")
	flag.StringVar(&o.against, "against", "", "folder of a pass of the same seed to compare with")
	flag.IntVar(&o.processes, "processes", 2, "that read frames at a time")
	flag.IntVar(&o.most, "most", 40, "frames of a trial")
	flag.StringVar(&o.photographs, "photographs", filepath.Join("..", "shared"),
		"folder that holds the folders rulers and rulers-more")
	flag.Parse()
	if err := run(os.Stdout, o); err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
}

func run(w io.Writer, o options) error {
	if o.frames == 0 && o.work == "" {
		return count(w, ".", o.list)
	}
	if o.seed == 0 {
		return fmt.Errorf("no seed\nhint: add -seed N")
	}
	if o.work == "" {
		dir, err := os.MkdirTemp("", "limits")
		if err != nil {
			return err
		}
		defer os.RemoveAll(dir)
		o.work = dir
	}
	if o.frames > 0 {
		if err := o.newPass(); err != nil {
			return err
		}
	}
	s, err := readStored(o.work)
	if err != nil {
		return err
	}
	r, err := read(o.work, len(s.Sites))
	if err != nil {
		return err
	}
	r.table(w, s)
	if o.against != "" {
		was, err := read(o.against, 0)
		if err != nil {
			return err
		}
		fmt.Fprintf(w, "\nagainst %s:\n%s\n%v\n", o.against, changeHead, was.against(r))
	}
	if !o.trials {
		return nil
	}
	if err := o.pass("trials", append(r.removals(s, o.most), r.variations(s, o.most)...)); err != nil {
		return err
	}
	if r, err = read(o.work, len(s.Sites)); err != nil {
		return err
	}
	r.printTrials(w, s)
	return nil
}

// newPass builds the copy and has it read the frames.
func (o options) newPass() error {
	list, err := frames(o.photographs, o.frames)
	if err != nil {
		return err
	}
	if err := build(o); err != nil {
		return err
	}
	return o.pass("frames", []task{{Frames: list}})
}

// count prints how many numbers each room has.
func count(w io.Writer, dir string, list bool) error {
	rooms, err := load(dir, append(reader(), beside()...))
	if err != nil {
		return err
	}
	fmt.Fprintf(w, "%-28s %6s %12s %8s\n", "", "limits", "in limits.go", "weights")
	var sum tallied
	for k, r := range rooms {
		var own tallied
		for _, n := range r.numbers() {
			own.add(n)
			if list && n.exact == "" {
				fmt.Fprintln(w, n)
			}
		}
		own.print(w, r.path)
		if sum.with(own); k == len(reader())-1 {
			sum.print(w, "what reads rulers")
		}
	}
	return nil
}

// tallied are numbers of a kind.
type tallied struct{ limits, gathered, weights int }

func (c *tallied) add(n *number) {
	switch {
	case n.exact != "":
	case n.weight:
		c.weights++
	default:
		if c.limits++; n.inLimits() {
			c.gathered++
		}
	}
}

func (c *tallied) with(d tallied) {
	c.limits, c.gathered, c.weights = c.limits+d.limits, c.gathered+d.gathered, c.weights+d.weights
}

func (c tallied) print(w io.Writer, name string) {
	fmt.Fprintf(w, "%-28s %6d %12d %8d\n", name, c.limits, c.gathered, c.weights)
}
