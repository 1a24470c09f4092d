package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"leadmark/testdata"
)

// rehearsed is the rehearsal of a simulated run's design, and the same without its stretch.
func rehearsed(c cell) (with, without *rehearsal) {
	run, _ := simulate(c, rand.New(rand.NewPCG(1, 1)))
	s := newLayout(run).review()
	r := s.rehearse(s.places(yBelow0, -1, placesBelow), s.places(0, 1, placesAbove))
	plain := *r
	plain.stretch = make([]float64, len(r.y))
	for z := range plain.stretch {
		plain.stretch[z] = 1
	}
	return r, &plain
}

// coverage of the stretched interval when the truth is place y.
func (r *rehearsal) coverage(y int) float64 {
	sum := 0.0
	for z, c := range r.chance[y] {
		if c > 1e-6 {
			sum += c * math.Erf(r.stretch[z]*r.next[z]/(r.total[y]*math.Sqrt2))
		}
	}
	return sum
}

// extremes are the least and the most coverage from nil up to where it is set right.
func (r *rehearsal) extremes() (least, most float64) {
	least = 1
	for y := r.zero; y <= r.zero+holdsAbove; y++ {
		c := r.coverage(y)
		least, most = math.Min(least, c), math.Max(most, c)
	}
	return least, most
}

// The stretch keeps the next shot's coverage within 93.5 to 96.2 % where the mixture alone does
// not, and its bounds: widths grow with the scatter, and none is narrower than the share of the
// lag's own interval allowed.
func TestRehearsalSetsTheNextShotRight(t *testing.T) {
	helped := 0
	for _, c := range []cell{{"push", 2, 2, 0, false, false}, {"push", 3, 3, 0, true, false},
		{"push", 4, 4, 0, false, false}, {"push", 2, 12, 0, false, false},
		{"push", 6, 12, 0, false, false}, {"push", 2, 12, 0, false, true}, {"push", 6, 12, 0, false, true},
		{"drop", 6, 12, 0, false, true}, {"drop", 2, 4, 0, true, true}, {"sweep", 2, 12, 0, true, true}} {
		r, plain := rehearsed(c)
		least, most := r.extremes()
		before, above := plain.extremes()
		t.Logf("%+v: %.2f to %.2f %%, without the stretch %.2f to %.2f", c, 100*least, 100*most, 100*before, 100*above)
		if least < 0.935 || most > 0.962 {
			t.Errorf("%+v: coverage %.2f to %.2f %%", c, 100*least, 100*most)
		}
		if before < 0.935 || above > 0.962 {
			helped++
		}
		last := 0.0
		for z, h := range r.next {
			h *= r.stretch[z]
			if h < last*(1-1e-9) || h < math.Min(narrowest*r.lag[z], r.next[z])*(1-1e-9) {
				t.Errorf("%+v: half-width %g at place %d, %g before it, the lag's %g", c, h, z, last, r.lag[z])
			}
			last = h
		}
	}
	if helped < 4 {
		t.Errorf("only %d of the designs needed the stretch: they no longer show what it is for", helped)
	}
}

// The law of an estimated place is that of log(chi-squared/df): mean and variance by digamma and
// trigamma, psi(5) - log 5 and psi'(5) for ten degrees of freedom (Abramowitz and Stegun, table 6.1
// and 6.2: psi(5) = 1.5061176684, psi'(5) = 0.2213229557).
func TestLogVarianceLaw(t *testing.T) {
	share := logVariance(10)
	mean, square := 0.0, 0.0
	for i, p := range share {
		x := float64(i-reachLeft) * placeStep * math.Sqrt(2.0/10)
		mean, square = mean+p*x, square+p*x*x
	}
	testdata.Near(t, "mean", mean, 1.5061176684-math.Log(5), 1e-3)
	testdata.Near(t, "variance", square-mean*mean, 0.2213229557, 1e-3)
}

// Far above nil nothing is stretched, and the place between two is given the stretch between theirs.
func TestStretchFadesAboveNil(t *testing.T) {
	run, _ := simulate(cell{"push", 2, 12, 10, false, false}, rand.New(rand.NewPCG(2, 1)))
	s := newLayout(run).review()
	if f := s.stretchAt(s.best); f != 1 {
		t.Errorf("stretched by %g at ten times the reading noise", f)
	}
	r := rehearsal{y: []float64{0, 1, 3}, stretch: []float64{0.9, 1.1, 1}}
	for y, want := range map[float64]float64{-1: 0.9, 0.5: 1.0, 2: 1.05, 3: 1} {
		testdata.Within(t, "stretch", r.factor(y), want, 1e-12)
	}
}
