// Command checkstudy looks at drawn frames of animals with known truth, as JPEG files and on the
// way that leadmark check takes, and prints how what docs/check.md promises stands: animals found,
// false finds, outlines, whole or cut, noses, blurs and why frames are not sharp.
//
//	checkstudy [-seed S] [-sets N] [-v]
//
// A set has five frames and two empty ones, and each third one five more of a larger size that one
// blur alone makes unsharp or leaves sharp: 60 sets are 300 frames, 120 empty ones and 100 with one
// blur. Status 1 where something promised is not kept, or the sets are too few to tell. Sets 1001 to
// 1060 served for development.
package main

import (
	"context"
	"flag"
	"fmt"
	"os"

	"leadmark/fit/parallel"
)

func main() {
	seed := flag.Uint64("seed", 1001, "of the first set")
	sets := flag.Int("sets", 60, "how many")
	width := flag.Int("width", 1200, "of the pictures, px")
	verbose := flag.Bool("v", false, "print a line for each frame that is off")
	flag.Parse()
	r, err := look(*seed, *sets, *width)
	if err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(2)
	}
	if *verbose {
		r.print()
	}
	s := r.study(*width, 1)
	if err := s.Print(os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(2)
	}
	os.Exit(s.Status())
}

// look draws sets and looks at them.
func look(seed uint64, sets, width int) (results, error) {
	list := make([]results, sets)
	err := parallel.Try(context.Background(), sets, 0, func(_ context.Context, i int) error {
		dir, err := os.MkdirTemp("", "checkstudy")
		if err != nil {
			return err
		}
		defer os.RemoveAll(dir)
		if list[i], err = usual(dir, seed+uint64(i), width); err != nil || i%3 != 0 { // the others take long to draw
			return err
		}
		more, err := alone(dir, seed+uint64(i))
		list[i].add(more)
		return err
	})
	var all results
	for _, r := range list {
		all.add(r)
	}
	return all, err
}

// print writes a line for each frame that is off.
func (r *results) print() {
	for _, list := range [][]outcome{r.frames, r.alone} {
		for _, o := range list {
			blurs := o.seenCause == o.cause && o.motionRight() && o.blurRight()
			if !o.found || !o.number || !o.sides || o.whole && !blurs {
				fmt.Println(o.String())
			}
		}
	}
}
