// Command loopstudy closes the loop many times: a plan, a shoot of animals whose speed and heading
// are others, what is learned from it, and a plan made with that. It says how often the second
// plan's reach holds the whole body of fresh animals, against the share that it states, and how
// large it is beside the reach of one who knows the truth.
//
//	loopstudy [-seed S] [-loops N] [-pictures N] [-v]
//
// For each of four ratios of true to planned speed, N loops take leads and headings from the model,
// with the error that a check of pictures makes, and some draw pictures and check them. Status 1
// where what is claimed is not kept.
package main

import (
	"flag"
	"fmt"
	"math"
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
	s.run(*seed, *loops, *pictures)
	claims := s.claims()
	if err := s.report(os.Stdout, claims); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
	os.Exit(claims.Status())
}

// fewestShown is with how few noses in the pictures nothing is to be learned: what docs/check.md
// says.
const fewestShown = 5

// tally is what loops came to. One that teaches nothing though it shows enough, or ends in an error,
// counts as a reach that holds nothing and has no end.
type tally struct {
	first, second []float64 // shares of fresh animals inside the reaches
	held          int       // loops of which the first fresh animal was inside the second
	size          []float64 // of the second reach over that of one who knows the truth
	stated        []float64 // by the second reach
	few           int       // loops that showed too little to learn from
}

// study is what all loops came to.
type study struct {
	verbose           bool
	simulated, drawn  [4]tally
	noseAlong, noseUp []float64 // errors of the check, m
	shown             int       // noses in the drawn pictures
	errors            []failure
}

type failure struct {
	loop string
	err  error
}

func (s *study) run(seed uint64, loops, pictures int) {
	for i, ratio := range ratios {
		for k := range loops + pictures {
			l := newLoop(ratio, seed+uint64(k)*10+uint64(i))
			to, get := &s.simulated[i], l.simulate
			if k >= loops {
				to, get = &s.drawn[i], l.draw
			}
			got, err := get()
			if k >= loops {
				s.shown += l.shown
			}
			s.noseAlong, s.noseUp = append(s.noseAlong, l.offAlong...), append(s.noseUp, l.offUp...)
			if err == nil {
				err = s.add(to, l, got)
			}
			if err != nil {
				to.nothing()
				s.errors = append(s.errors, failure{fmt.Sprintf("loop with seed %d", l.seed), err})
			}
		}
	}
}

// nothing counts a loop that led to no second reach.
func (t *tally) nothing() {
	t.first, t.second = append(t.first, math.NaN()), append(t.second, 0)
	t.size, t.stated = append(t.size, math.NaN()), append(t.stated, math.NaN())
}

// add plans again with what a loop taught, and counts.
func (s *study) add(t *tally, l *loop, got shoot.Result) error {
	if got.Learned == nil {
		if l.shown < fewestShown {
			t.few++
		} else {
			t.nothing()
		}
		return nil
	}
	again, err := l.planAgain(got)
	if err != nil {
		return err
	}
	one, first, second := l.shares(l.first.Reach, again.Reach)
	t.first, t.second = append(t.first, first), append(t.second, second)
	t.stated = append(t.stated, again.Reach.Probability)
	t.size = append(t.size, area(again.Reach)/l.best())
	if one {
		t.held++
	}
	if s.verbose {
		h := got.Learned.Heading
		fmt.Printf("seed %d, %d frames: true %.3g m/s (sd %.2g), learned %.3g (sd %.2g, df %.0f); heading "+
			"%v; inside %.3f, then %.3f; %.2f as large as by the truth\n",
			l.seed, l.frames, l.truth.Speed, l.truth.SpeedSD, got.Learned.Speed, got.Learned.SpeedSD,
			got.Learned.Known.DF, h, first, second, t.size[len(t.size)-1])
	}
	return nil
}
