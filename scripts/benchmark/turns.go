package main

import (
	"fmt"
	"strings"

	"leadmark/scripts/claim"
)

// took is what one side took in one turn: seconds, of the processor and by the clock, and MB.
type took struct{ cpu, clock, peak float64 }

// side does its work once. An answer that is not that of all the work is an error.
type side func() (took, error)

// turns are what two sides took, turn by turn.
type turns struct{ a, b []took }

// turnAbout lets two sides take n turns, the one first in every other.
func turnAbout(n int, a, b side) (t turns, err error) {
	one := func(s side, to *[]took) error {
		k, err := s()
		if err == nil && k.cpu <= 0 {
			err = fmt.Errorf("it took %g s of processor time", k.cpu)
		}
		*to = append(*to, k)
		return err
	}
	for i := range n {
		first, second := func() error { return one(a, &t.a) }, func() error { return one(b, &t.b) }
		if i%2 == 1 {
			first, second = second, first
		}
		if err := first(); err != nil {
			return t, err
		}
		if err := second(); err != nil {
			return t, err
		}
	}
	return t, nil
}

func cpu(t took) float64   { return t.cpu }
func clock(t took) float64 { return t.clock }
func peak(t took) float64  { return t.peak }

// ratio is the median over the turns of what a took to what b took.
func (t turns) ratio(of func(took) float64) claim.Figure {
	var r []float64
	for i := range min(len(t.a), len(t.b)) {
		r = append(r, of(t.a[i])/of(t.b[i]))
	}
	return claim.Quantile(0.5, r)
}

// most is the largest over one side's turns, middle the median.
func most(side []took, of func(took) float64) claim.Figure   { return over(side, of, 1) }
func middle(side []took, of func(took) float64) claim.Figure { return over(side, of, 0.5) }

func over(side []took, of func(took) float64, q float64) claim.Figure {
	return claim.Quantile(q, claim.Values(side, func(t *took) float64 { return of(*t) }))
}

// show prints a figure that nothing is claimed of.
func show(what string, f claim.Figure) {
	fmt.Printf("        %s: %s (95 %% interval %.4g to %.4g) of %d\n", what,
		strings.TrimSpace(fmt.Sprintf("%.4g %s", f.Value, f.Unit)), f.Low, f.High, f.N)
}
