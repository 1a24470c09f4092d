// Command loopstudy closes the loop many times: a plan, a shoot of animals whose speed and heading
// are others, what is learned from it, and a plan made with that. It says how often the second
// plan's reach holds the whole body of fresh animals, against the share that it states.
//
//	loopstudy [-seed S] [-loops N] [-pictures N] [-v]
//
// For each of four ratios of true to planned speed, N loops take leads and headings from the model,
// with the error that a check of pictures makes, and some draw pictures and check them.
package main

import (
	"flag"
	"fmt"
	"os"

	"leadmark/calib/shoot"
)

// ratios are of the true speed to the planned one.
var ratios = []float64{0.6, 0.8, 1.25, 1.6}

func main() {
	seed := flag.Uint64("seed", 1, "of the first loop")
	loops := flag.Int("loops", 100, "without pictures, for each ratio")
	pictures := flag.Int("pictures", 3, "loops with pictures, for each ratio")
	verbose := flag.Bool("v", false, "print a line for each loop")
	flag.Parse()
	s := study{verbose: *verbose}
	if err := s.run(*seed, *loops, *pictures); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
	if !s.report() {
		os.Exit(1)
	}
}

// tally is what loops came to.
type tally struct {
	first, second []float64 // shares of fresh animals inside the reaches
	held          int       // loops of which the first fresh animal was inside the second
	nothing       int       // loops from which too little was seen to learn
}

// study is what all loops came to.
type study struct {
	verbose           bool
	simulated, drawn  [4]tally
	stated            float64
	noseAlong, noseUp []float64 // errors of the check, m
}

func (s *study) run(seed uint64, loops, pictures int) error {
	for i, ratio := range ratios {
		for k := range loops + pictures {
			l := newLoop(ratio, seed+uint64(k)*10+uint64(i))
			to, get := &s.simulated[i], l.simulate
			if k >= loops {
				to, get = &s.drawn[i], l.draw
			}
			got, err := get()
			if err != nil {
				return err
			}
			if err := s.add(to, l, got); err != nil {
				return err
			}
		}
	}
	return nil
}

// add plans again with what a loop taught, and counts.
func (s *study) add(t *tally, l *loop, got shoot.Result) error {
	s.noseAlong, s.noseUp = append(s.noseAlong, l.offAlong...), append(s.noseUp, l.offUp...)
	if got.Learned == nil {
		t.nothing++
		return nil
	}
	again, err := l.planAgain(got)
	if err != nil {
		return err
	}
	s.stated = again.Reach.Probability
	one, first, second := l.shares(l.first.Reach, again.Reach)
	t.first, t.second = append(t.first, first), append(t.second, second)
	if one {
		t.held++
	}
	if s.verbose {
		h := got.Learned.Heading
		fmt.Printf("seed %d, %d frames: true %.3g m/s (sd %.2g), learned %.3g (sd %.2g, df %.0f); heading "+
			"%v; inside %.3f, then %.3f\n",
			l.seed, l.frames, l.truth.Speed, l.truth.SpeedSD, got.Learned.Speed, got.Learned.SpeedSD,
			got.Learned.Known.DF, h, first, second)
	}
	return nil
}
