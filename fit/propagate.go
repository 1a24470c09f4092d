package fit

import (
	"fmt"
	"math"
	"sort"
	"sync"

	"leadmark/fit/mixed"
)

// Propagation is the Monte Carlo propagation of a run's uncertainties (JCGM 101:2008).
type Propagation struct {
	Draws     int
	Lag, Trip *Propagated // nil where not told
}

// Propagated is the distribution drawn for one estimate.
type Propagated struct {
	Mean, U    float64  // with the scatter held at its estimate: to be set beside BudgetU
	Interval95 Interval // with the scatter drawn as well: to be set beside the estimate's interval
	BudgetU    float64  // the budget's without its line "weights", which only a drawn scatter shows
	// Tolerance is half a unit of the second digit of U (JCGM 101 clause 8.1) and four standard
	// errors of the drawing.
	Tolerance float64
	Agrees    bool // U lies within Tolerance of BudgetU, the interval's ends within twice that of those stated
}

const (
	fewDraws  = 1000
	manyDraws = 1000000
)

// Propagate draws a run's inputs from their distributions and estimates anew each time, through the
// model itself and not its linear form (JCGM 101:2008 clause 7): readings, heights, letting go,
// speeds, tape, gravity, trip place and the spread normal, the size of the scatter from what the
// readings say of it. result is what Lag gave for this run. draws lies between 1000 and 1e6; the
// seed is fixed. It returns ErrBadRun for other draws or a result of another run, and the errors of
// Lag.
func Propagate(run Run, result Result, draws int) (Propagation, error) {
	if draws < fewDraws || draws > manyDraws {
		return Propagation{}, fmt.Errorf("%w: %d draws asked, between %d and %d are "+
			"possible", ErrBadRun, draws, fewDraws, manyDraws)
	}
	if err := check(run); err != nil {
		return Propagation{}, err
	}
	if len(result.Shots) != len(run.Shots) {
		return Propagation{}, fmt.Errorf("%w: the result has %d shots, the run "+
			"%d", ErrBadRun, len(result.Shots), len(run.Shots))
	}
	out := Propagation{Draws: draws}
	if result.Lag == nil {
		return out, nil
	}
	s := newLayout(run).review()
	post := s.Integrate(s.Best, mixed.Floor)
	one := func(j int, e Estimate) *Propagated {
		d := s.drawing(j)
		held := d.at(s.Best, draws, nil)
		return s.propagated(j, held, d.mixture(post, draws), e)
	}
	var wait sync.WaitGroup // each unknown has draws of its own
	wait.Go(func() { out.Lag = one(colLag, *result.Lag) })
	if result.TripOffset != nil {
		wait.Go(func() { out.Trip = one(colTrip, *result.TripOffset) })
	}
	wait.Wait()
	return out, nil
}

// propagated sums up the drawn values of unknown j. The interval is the one between equal tails;
// its ends and U have the sampling errors of a quantile and a standard deviation of a normal law.
func (s *solution) propagated(j int, held, free []float64, e Estimate) *Propagated {
	p := &Propagated{BudgetU: math.Sqrt(s.Best.Cov[j*s.P+j])}
	m := float64(len(held))
	for _, v := range held {
		p.Mean += (v - held[0]) / m
	}
	p.Mean += held[0]
	for _, v := range held {
		p.U += sq(v-p.Mean) / (m - 1)
	}
	p.U = math.Sqrt(p.U)
	sort.Float64s(free)
	at := func(q float64) float64 { return free[int(q*(m-1)+0.5)] }
	p.Interval95 = Interval{at(0.025), at(0.975)}
	half := (e.Interval95.High - e.Interval95.Low) / 2
	digit := 0.5 * math.Pow(10, math.Floor(math.Log10(p.BudgetU))-1)
	p.Tolerance = digit + 4*p.BudgetU/math.Sqrt(2*m)
	// sd of the 2.5 % quantile: sqrt(q(1-q)/m)/density = 2.67 u/sqrt(m) for a normal law of that
	// half-width.
	ends := 2 * (digit + 4*2.67*half/1.96/math.Sqrt(m))
	p.Agrees = math.Abs(p.U-p.BudgetU) <= p.Tolerance &&
		math.Abs(p.Interval95.Low-e.Interval95.Low) <= ends && math.Abs(p.Interval95.High-e.Interval95.High) <= ends
	return p
}
