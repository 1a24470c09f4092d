package main

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"

	"leadmark/calib/shoot"
)

// report prints the shares, and says whether they agree with what is stated: the first fresh animal
// of each loop counts once, so that the loops are independent and the binomial test is exact. It
// fails where the share lies below and chance gives that in one case of a hundred.
func (s *study) report() bool {
	fmt.Printf("stated %.3f\n%-22s %6s %9s %10s %21s  %s\n", s.stated, "true/planned speed", "loops", "first",
		"second", "least tenth of loops", "first fresh animal inside the second")
	var all, drawn tally
	for i, ratio := range ratios {
		line(fmt.Sprintf("%.2f", ratio), s.simulated[i], s.stated)
		all = all.with(s.simulated[i])
		drawn = drawn.with(s.drawn[i])
	}
	line("all", all, s.stated)
	line("with pictures", drawn, s.stated)
	if n := len(s.noseAlong); n > 0 {
		fmt.Printf("error of the checks' noses, %d frames: along %.3f mm (sd %.3f), up %.3f mm (sd %.3f)\n", n,
			1e3*stat.Mean(s.noseAlong, nil), 1e3*stat.StdDev(s.noseAlong, nil), 1e3*stat.Mean(s.noseUp, nil),
			1e3*stat.StdDev(s.noseUp, nil))
	}
	return all.holds(s.stated) && drawn.holds(s.stated)
}

func (t tally) with(o tally) tally {
	return tally{append(append([]float64{}, t.first...), o.first...),
		append(append([]float64{}, t.second...), o.second...), t.held + o.held, t.nothing + o.nothing}
}

// holds is false where the share lies below the stated one by more than chance gives in a hundred.
func (t tally) holds(stated float64) bool {
	n := len(t.second)
	return n == 0 || float64(t.held) >= stated*float64(n) || shoot.BinomialP(t.held, n, stated) > 0.01
}

func line(name string, t tally, stated float64) {
	n := len(t.second)
	if n == 0 {
		return
	}
	u := stat.StdDev(t.second, nil) / math.Sqrt(float64(n))
	ci := shoot.BinomialInterval(t.held, n)
	fmt.Printf("%-22s %6d %9.3f %10s %21.3f  %d of %d (95 %% interval %.3f to %.3f), p = %.2g; nothing "+
		"learned in %d\n", name, n, stat.Mean(t.first, nil),
		fmt.Sprintf("%.3f+-%.3f", stat.Mean(t.second, nil), u), tenth(t.second), t.held, n, ci[0], ci[1],
		shoot.BinomialP(t.held, n, stated), t.nothing)
}
