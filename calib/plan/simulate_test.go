package plan_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"leadmark/calib/plan"
	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/subject"
)

// This file draws trips by itself, straight from the conventions of the file formats: its own
// random numbers, its own geometry by turning eight corners. It shares nothing with the package but
// the values it is given.

// nature is a subject before a rig.
type nature struct {
	s     subject.Subject
	lag   predict.Law
	delay float64
	rnd   *rand.Rand
}

// above0 draws until the value is above zero: a law cut off there.
func above0(draw func() float64) float64 {
	for {
		if x := draw(); x > 0 {
			return x
		}
	}
}

// student draws Student's t as a normal over the root of a chi-squared variate by its degrees of
// freedom, the latter as the sum of exponentials and a squared normal (whole degrees of freedom
// only).
func (n *nature) student(df int) float64 {
	z, c := n.rnd.NormFloat64(), 0.0
	for range df / 2 {
		c += 2 * n.rnd.ExpFloat64()
	}
	if df%2 == 1 {
		w := n.rnd.NormFloat64()
		c += w * w
	}
	return z / math.Sqrt(c/float64(df))
}

func (n *nature) tau() float64 {
	return n.delay + above0(func() float64 {
		if n.lag.DF == 0 {
			return n.lag.Mean + n.lag.Scale*n.rnd.NormFloat64()
		}
		return n.lag.Mean + n.lag.Scale*n.student(int(n.lag.DF))
	})
}

type matrix [3][3]float64

func (m matrix) turn(v [3]float64) (w [3]float64) {
	for i := range w {
		for j := range v {
			w[i] += m[i][j] * v[j]
		}
	}
	return w
}

// heading turns along (1, 0, 0) upward by e and then toward the camera by a.
func heading(e, a float64) matrix {
	se, ce := math.Sincos(e)
	sa, ca := math.Sincos(a)
	return matrix{{ca * ce, -ca * se, -sa}, {se, ce, 0}, {sa * ce, -sa * se, ca}}
}

// next is how far the next value lies from a mean that is known to k: what the true mean and
// standard deviation may be, given those learned, and the scatter about them (Gelman and others,
// Bayesian Data Analysis, 3.2, from memory: sigma^2 is df s^2 over a chi squared).
func (n *nature) next(sd float64, k predict.Known) float64 {
	scale := 1.0
	if k.DF > 0 {
		scale = math.Sqrt(k.DF / distuv.ChiSquared{K: k.DF, Src: n.rnd}.Rand())
	}
	return scale * (k.U*n.rnd.NormFloat64() + sd*n.rnd.NormFloat64())
}

// corners is one trip: the eight corners of the body at the flash.
func (n *nature) corners() (c [8][3]float64) {
	s := n.s
	tau := n.tau()
	e := s.Elevation + n.next(s.ElevationSD, s.ElevationKnown)
	a := s.AzimuthSD * n.rnd.NormFloat64()
	v := s.Speed
	if s.SpeedSD > 0 {
		v = above0(func() float64 { return s.Speed + n.next(s.SpeedSD, s.SpeedKnown) })
	}
	turned := heading(e, a)
	place := [3]float64{0, (n.rnd.Float64() - 0.5) * s.Exit[0], (n.rnd.Float64() - 0.5) * s.Exit[1]}
	velocity := turned.turn([3]float64{v, 0, 0})
	moved := [3]float64{velocity[0] * tau, velocity[1] * tau, velocity[2] * tau}
	switch s.Motion {
	case subject.Hop:
		moved[1] -= 9.80665 / 2 * tau * tau
		velocity[1] -= 9.80665 * tau
	case subject.Table:
		k := 1
		for k < len(s.Course.Time)-1 && s.Course.Time[k] <= tau {
			k++
		}
		dt := s.Course.Time[k] - s.Course.Time[k-1]
		dx, dy := s.Course.Along[k]-s.Course.Along[k-1], s.Course.Up[k]-s.Course.Up[k-1]
		f := (tau - s.Course.Time[k-1]) / dt
		moved = turned.turn([3]float64{s.Course.Along[k-1] + f*dx, s.Course.Up[k-1] + f*dy, 0})
		velocity = turned.turn([3]float64{dx / dt, dy / dt, 0})
	}
	pitch := math.Atan2(velocity[1], math.Hypot(velocity[0], velocity[2]))
	yaw := math.Atan2(velocity[2], velocity[0])
	// its length along the velocity, its height in the vertical plane through it
	body := heading(pitch, yaw)
	for i := range c {
		local := [3]float64{s.BehindNose - s.Length*float64(i&1),
			s.Height * (float64(i>>1&1) - 0.5), s.Width * (float64(i>>2&1) - 0.5)}
		at := body.turn(local)
		for j := range at {
			c[i][j] = place[j] + moved[j] + at[j]
		}
	}
	return c
}

type box [3][2]float64

// shrunk is the box with each side so many times as long, about its middle.
func (b box) shrunk(k float64) box {
	for i, x := range b {
		mid, half := (x[0]+x[1])/2, k*(x[1]-x[0])/2
		b[i] = [2]float64{mid - half, mid + half}
	}
	return b
}

func (b box) holds(c [8][3]float64) bool {
	for _, p := range c {
		for i, x := range p {
			if x < b[i][0] || x > b[i][1] {
				return false
			}
		}
	}
	return true
}

// simulated is one case to draw.
type simulated struct {
	name  string
	s     subject.Subject
	lag   predict.Law
	delay float64
	p     float64
}

func course(t *testing.T, text string) subject.Course {
	c, err := subject.ParseCourse("course.csv", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func rad(deg float64) float64 { return deg * math.Pi / 180 }

// simulatedCases are four of each motion, with lags known well and badly, measured and assumed.
func simulatedCases(t *testing.T) []simulated {
	measured := predict.Law{Mean: 0.0523, Scale: 0.00085, DF: 17, Spread: 0.0008, MeanU: 0.0002}
	poor := predict.Law{Mean: 0.030, Scale: 0.004, DF: 4, Spread: 0.0035, MeanU: 0.0015}
	wide := predict.AssumedLag(0.020, 0.012) // one in 21 would be below zero and is drawn again
	bee := subject.Subject{Length: 0.012, Height: 0.006, Width: 0.008, Motion: subject.Straight,
		Speed: 1.2, SpeedSD: 0.3, Elevation: rad(5), ElevationSD: rad(8), AzimuthSD: rad(6),
		Exit: [2]float64{0.010, 0.010}}
	runner := subject.Subject{Length: 0.07, Height: 0.02, Width: 0.04, Motion: subject.Straight,
		Speed: 3, SpeedSD: 0.6, AzimuthSD: rad(10), Exit: [2]float64{0, 0.05}, BehindNose: 0.02}
	slow := subject.Subject{Length: 0.03, Height: 0.02, Width: 0.05, Motion: subject.Straight,
		Speed: 0.3, SpeedSD: 0.25, Elevation: rad(-20), ElevationSD: rad(25), AzimuthSD: rad(30),
		Exit: [2]float64{0.02, 0.06}, BehindNose: 0.03}
	hopper := subject.Subject{Length: 0.006, Height: 0.003, Width: 0.003, Motion: subject.Hop,
		Speed: 3.1, SpeedSD: 0.6, Elevation: rad(45), ElevationSD: rad(15), AzimuthSD: rad(25),
		Exit: [2]float64{0.02, 0.02}, BehindNose: 0.003}
	frog := subject.Subject{Length: 0.05, Height: 0.025, Width: 0.03, Motion: subject.Hop,
		Speed: 1.4, SpeedSD: 0.2, Elevation: rad(60), ElevationSD: rad(6), AzimuthSD: rad(8),
		Exit: [2]float64{0.04, 0.04}, BehindNose: 0.01}
	strike := subject.Subject{Length: 0.09, Height: 0.02, Width: 0.02, Motion: subject.Table,
		ElevationSD: rad(6), AzimuthSD: rad(5), Elevation: rad(10), Exit: [2]float64{0.02, 0.02},
		BehindNose: 0.004,
		Course: course(t,
			"time_ms,along_mm,up_mm\n0,0,0\n10,4,1\n20,14,3\n30,34,5\n40,62,6\n60,110,2\n90,150,-14\n200,180,-60\n")}
	learned := bee
	learned.SpeedKnown, learned.ElevationKnown = predict.Known{U: 0.1, DF: 8},
		predict.Known{U: rad(2), DF: 11}
	flat := strike
	flat.Course, flat.BehindNose, flat.Elevation, flat.Exit = course(t,
		"time_ms,along_mm\n0,0\n50,60\n52,60\n400,900\n"), 0, 0, [2]float64{}
	late := frog
	late.Speed, late.SpeedSD = 1.1, 0.3
	return []simulated{
		{"bee", bee, measured, 0, 0.95}, {"runner", runner, measured, 0.010, 0.95},
		{"slow and scattered", slow, poor, 0.2, 0.9}, {"lag assumed", bee, wide, 0, 0.8},
		{"hopper", hopper, measured, 0, 0.95}, {"frog past its top", frog, measured, 0.12, 0.99},
		{"hop, lag poor", hopper, poor, 0, 0.9}, {"slow hop", late, wide, 0.08, 0.95},
		{"strike", strike, measured, 0, 0.95}, {"strike, lag poor", strike, poor, 0, 0.5},
		{"strike, delayed", strike, measured, 0.060, 0.98},
		{"course with a rest", flat, measured, 0, 0.95},
		{"learned from a few", learned, measured, 0, 0.95},
	}
}

// The reach holds what it says, within 0.3 per cent points in a million trips, and shrunk by 3 %
// each way it does not.
func TestReachHoldsWhatItSays(t *testing.T) {
	const trips = 1_000_000
	for i, c := range simulatedCases(t) {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			o := plan.DefaultOptions()
			o.Probability, o.Delay = c.p, &c.delay
			p, err := plan.Make(plan.Request{Subject: c.s, Lag: c.lag, Options: o})
			if err != nil {
				t.Fatal(err)
			}
			b := box{p.Reach.Along, p.Reach.Up, p.Reach.Depth}
			small := b.shrunk(0.97)
			n := nature{c.s, c.lag, c.delay, rand.New(rand.NewPCG(uint64(i), 20_260_401))}
			in, inSmall := 0, 0
			for range trips {
				k := n.corners()
				if b.holds(k) {
					in++
					if small.holds(k) {
						inSmall++
					}
				}
			}
			got, shrunk := float64(in)/trips, float64(inSmall)/trips
			u := math.Sqrt(c.p*(1-c.p)/trips) + p.Reach.ProbabilityU
			t.Logf("%.4f of trips inside, %.4f wanted; shrunk by 3 %%: %.4f", got, c.p, shrunk)
			if math.Abs(got-c.p) > 0.003 {
				t.Errorf("%.4f of trips are inside, %.4f wanted", got, c.p)
			}
			if math.Abs(got-c.p) > 5*u {
				t.Errorf("%.4f of trips are inside, %.4f wanted: more than five times the stated error",
					got, c.p)
			}
			if shrunk > c.p-5*u {
				t.Errorf("shrunk by 3 %% it still holds %.4f", shrunk)
			}
		})
	}
}

// The chance that the whole body is in the picture, against corners seen one by one from the
// entrance pupil: the plan takes a body to be all as near as its nearest point, so it says no more
// than that, and not much less.
func TestInFieldAgainstProjectedCorners(t *testing.T) {
	const trips = 200_000
	wide := bee()
	wide.AzimuthSD = rad(25)
	for i, s := range []subject.Subject{bee(), wide} {
		p := makePlan(t, func(r *plan.Request) { r.Subject, r.Options.Field = s, 0.07 })
		f := p.Framing
		u := f.Optics.PupilDistance()
		n := nature{s, measured(), 0, rand.New(rand.NewPCG(uint64(i), 3))}
		whole := 0
		for range trips {
			in := true
			for _, c := range n.corners() {
				k := u / (u - c[2]) // onto the plane in focus
				in = in && math.Abs(c[0]-f.Aim[0])*k <= f.Field[0]/2 &&
					math.Abs(c[1]-f.Aim[1])*k <= f.Field[1]/2
			}
			if in {
				whole++
			}
		}
		got := float64(whole) / trips
		t.Logf("in the picture: %.4f by corners, %.4f by the plan", got, p.Chance.InField.P)
		u95 := 3*math.Sqrt(got*(1-got)/trips) + 3*p.Chance.InField.U
		if d := got - p.Chance.InField.P; d < -u95 || d > 0.012 {
			t.Errorf("%.4f by corners, %.4f by the plan", got, p.Chance.InField.P)
		}
	}
}
