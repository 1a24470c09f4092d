package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"

	"leadmark/scripts/claim"
)

// bestLag is what could be made of a run by one who knows the truth: generalised least squares with
// the simulation's own covariance, linear about the true values. u is its standard error, the
// Cramér-Rao bound (Kay 1993, section 3.9). It uses no line of the program.
func bestLag(run Run, t truth) (lag, u float64) {
	x, v, r := model(run, t)
	var weighing mat.Cholesky
	if !weighing.Factorize(v) {
		return math.NaN(), math.NaN()
	}
	var wx, xwx mat.Dense
	var wr, rhs, step mat.VecDense
	if weighing.SolveTo(&wx, x) != nil || weighing.SolveVecTo(&wr, r) != nil {
		return math.NaN(), math.NaN()
	}
	xwx.Mul(x.T(), &wx)
	rhs.MulVec(x.T(), &wr)
	if run.TripU != nil { // the trip place was said to be nil
		w := 1 / (*run.TripU * *run.TripU)
		xwx.Set(1, 1, xwx.At(1, 1)+w)
		rhs.SetVec(1, rhs.AtVec(1)-w*t.trip)
	}
	var cov mat.Dense
	if cov.Inverse(&xwx) != nil {
		return math.NaN(), math.NaN()
	}
	step.MulVec(&cov, &rhs)
	return t.lag + step.AtVec(0), math.Sqrt(cov.At(0, 0))
}

// model is how a run was drawn, written out: the derivatives of each advance by lag, trip place and
// a sweep's speed, the covariance of the advances, and what they differ by from those of the truth.
func model(run Run, t truth) (x *mat.Dense, v *mat.SymDense, r *mat.VecDense) {
	n, g := len(run.Shots), run.Gravity
	unknown := 2
	if run.Shots[0].Group != "" {
		unknown = 3
	}
	x, v, r = mat.NewDense(n, unknown, nil), mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	perHeight, perGravity := make([]float64, n), make([]float64, n)
	for i, s := range run.Shots {
		tau, speed, known, a := t.lag+s.Delay, t.speeds[i], s.Speed, 0.0
		own := s.AdvanceU*s.AdvanceU + tau*tau*s.SpeedU*s.SpeedU
		switch {
		case s.Drop > 0:
			known, a = math.Sqrt(2*g*s.Drop), g
			perHeight[i], perGravity[i] = tau*g/speed, tau*speed/(2*g)+tau*tau/2
			own += math.Pow(perHeight[i]*s.DropShotU, 2)
		case s.Group != "":
			known = t.speed
			x.Set(i, 2, tau)
		}
		x.Set(i, 0, speed+a*tau)
		x.Set(i, 1, 1)
		r.SetVec(i, s.Advance-t.trip-known*tau-a*(tau*tau+t.spread*t.spread)/2)
		v.SetSym(i, i, own+math.Pow((speed+a*tau)*t.spread, 2))
	}
	for i, s := range run.Shots {
		for k := i; k < n; k++ {
			shared := run.DropCommonU * run.DropCommonU
			if s.Drop == run.Shots[k].Drop {
				shared += s.DropU * s.DropU
			}
			v.SetSym(i, k, v.At(i, k)+perHeight[i]*perHeight[k]*shared+
				perGravity[i]*perGravity[k]*run.GravityU*run.GravityU)
		}
	}
	return x, v, r
}

// The yardstick is what it says: its errors, in runs of every kind, are as large as its bound.
func TestBestLagErrsAsItSays(t *testing.T) {
	var s claim.Study
	for _, c := range []cell{{"drop", 3, 4, 3, true, false}, {"drop", 2, 3, 0, false, true},
		{"push", 3, 4, 1, true, true}, {"sweep", 4, 3, 3, true, false}} {
		rng, ratios := rand.New(rand.NewPCG(3, c.stream())), []float64(nil)
		for range 2000 {
			run, truth := simulate(c, rng)
			lag, u := bestLag(run, truth)
			ratios = append(ratios, (lag-truth.lag)/u)
		}
		s.Hold(c.label()+" error over its bound", claim.Spread(ratios), claim.Between(0.96, 1.04))
	}
	s.Held(t)
}
