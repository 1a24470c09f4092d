package main

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"sync"
	"time"

	"gonum.org/v1/gonum/stat/distuv"

	"leadmark/calib/input"
	"leadmark/calib/plan"
	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/reach"
	"leadmark/calib/plan/subject"
	"leadmark/calib/shoot"
)

// The planned subject. What is not learned from a picture, sizes, opening and azimuth, is as planned.
const planned = `name = "mason bee leaving a tube"
length_mm = 12
height_mm = 8
width_mm = 8
motion = "straight"
speed_mps = 1.1
speed_sd_mps = 0.2
elevation_deg = 2
elevation_sd_deg = 4
azimuth_sd_deg = 5
exit_mm = [6, 6]
[sources]
speed_mps = "invented"
`

// Errors of the noses that a check of pictures finds, mean and standard deviation, m: this study's
// own figures of 206 frames in loops with pictures.
var (
	offAlong = [2]float64{0.04e-3, 0.11e-3}
	offUp    = [2]float64{0.54e-3, 0.37e-3}
)

const (
	draws = 1 << 14 // trips that a plan is made from
	fresh = 400     // animals held against a reach
)

// loop is one: what was planned and what is true.
type loop struct {
	seed   uint64
	rnd    *rand.Rand
	first  plan.Plan
	truth  subject.Subject
	lag    float64 // the true mean and spread, s
	spread float64
	frames int
	field  shoot.Field

	shown           int       // noses in the pictures
	offAlong, offUp []float64 // errors of the check's noses, m
}

// law is the rig's lag, calibrated with 18 shots.
var law = predict.Law{Mean: 0.052, Spread: 0.0005, MeanU: 0.00012, DF: 17, Scale: math.Hypot(0.0005, 0.00012)}

// firstPlan is the plan of the planned subject, made once.
var firstPlan = sync.OnceValues(func() (plan.Plan, error) {
	s, err := subject.Parse("bee.toml", []byte(planned), input.Overrides{})
	if err != nil {
		return plan.Plan{}, err
	}
	return makePlan(s)
})

func makePlan(s subject.Subject) (plan.Plan, error) {
	o := plan.DefaultOptions()
	o.Draws = draws
	return plan.Make(plan.Request{Subject: s, Lag: law, Options: o})
}

// newLoop draws what is true: speed by the ratio, its scatter, the heading and its scatter, the lag
// within its uncertainty. The picture's front edge is where up to two fifths of the animals have
// passed it; it is 2/3 as high as it is long.
func newLoop(ratio float64, seed uint64) *loop {
	r := rand.New(rand.NewPCG(seed, 77))
	const rad = math.Pi / 180
	l := &loop{seed: seed, rnd: r, frames: 8 + r.IntN(53)}
	l.truth = subject.Subject{Length: 0.012, Height: 0.008, Width: 0.008, Motion: subject.Straight,
		Exit: [2]float64{0.006, 0.006}, AzimuthSD: 5 * rad}
	l.truth.Speed = 1.1 * ratio
	l.truth.SpeedSD = l.truth.Speed * (0.08 + 0.2*r.Float64())
	l.truth.Elevation, l.truth.ElevationSD = (2+16*(r.Float64()-0.5))*rad, (2+6*r.Float64())*rad
	l.lag = law.Mean + law.MeanU*r.NormFloat64()
	l.spread = law.Spread * math.Sqrt(law.DF/distuv.ChiSquared{K: law.DF, Src: r}.Rand())
	gone := 0.4 * r.Float64()
	end := law.Mean * (l.truth.Speed - l.truth.SpeedSD*distuv.UnitNormal.Quantile(max(gone, 1e-4)))
	l.field = shoot.Field{End: end, Top: 0.4 * end, Bottom: -0.4 * end, Body: l.truth.Length}
	return l
}

// trip is one animal at the flash: its nose, and its eight corners.
type trip struct {
	nose    [3]float64
	ahead   [3]float64 // the way
	corners [8][3]float64
}

// trip draws one from what is true.
func (l *loop) trip() trip {
	s, r := l.truth, l.rnd
	v := 0.0
	for v <= 0 {
		v = s.Speed + s.SpeedSD*r.NormFloat64()
	}
	se, ce := math.Sincos(s.Elevation + s.ElevationSD*r.NormFloat64())
	sa, ca := math.Sincos(s.AzimuthSD * r.NormFloat64())
	d := v * (l.lag + l.spread*r.NormFloat64())
	ahead, up, side := [3]float64{ce * ca, se, ce * sa}, [3]float64{-se * ca, ce, -se * sa}, [3]float64{-sa, 0, ca}
	place := [3]float64{0, s.Exit[0] * (r.Float64() - 0.5), s.Exit[1] * (r.Float64() - 0.5)}
	t := trip{ahead: ahead}
	for i := range 3 {
		t.nose[i] = place[i] + d*ahead[i]
		for c := range t.corners {
			t.corners[c][i] = t.nose[i] - s.Length*float64(c&1)*ahead[i] + s.Height*(float64(c>>1&1)-0.5)*up[i] +
				s.Width*(float64(c>>2)-0.5)*side[i]
		}
	}
	return t
}

// inside says whether all of a body lies in a reach.
func (t trip) inside(b reach.Box) bool {
	for _, c := range t.corners {
		for i, side := range [][2]float64{b.Along, b.Up, b.Depth} {
			if c[i] < side[0] || c[i] > side[1] {
				return false
			}
		}
	}
	return true
}

// shares are those of fresh animals inside two reaches; one says of the first of them whether it is
// inside the second.
func (l *loop) shares(a, b reach.Box) (one bool, first, second float64) {
	for i := range fresh {
		t := l.trip()
		if t.inside(a) {
			first += 1.0 / fresh
		}
		if t.inside(b) {
			second += 1.0 / fresh
			one = one || i == 0
		}
	}
	return one, first, second
}

// back is the trip's nose moved back along its way.
func (t trip) back(d float64) (along, up float64) {
	return t.nose[0] - d*t.ahead[0], t.nose[1] - d*t.ahead[1]
}

// Sides that a nose may have left the picture by.
const (
	within = iota
	inFront
	above
	beneath
)

func (l *loop) side(along, up float64) int {
	switch {
	case along > l.field.End:
		return inFront
	case up > l.field.Top:
		return above
	case up < l.field.Bottom:
		return beneath
	}
	return within
}

// simulate is a shoot without pictures: what a check would find in them.
func (l *loop) simulate() (shoot.Result, error) {
	leads := shoot.Leads{Field: l.field}
	var rays []shoot.Ray
	for range l.frames {
		t := l.trip()
		x, y := t.back(0)
		if l.side(x, y) == within {
			l.shown++
			x, y = x+offAlong[0]+offAlong[1]*l.rnd.NormFloat64(), y+offUp[0]+offUp[1]*l.rnd.NormFloat64()
			leads.Seen, rays = append(leads.Seen, x), append(rays, shoot.Ray{Along: x, Up: y})
			continue
		}
		if l.side(t.back(l.truth.Length)) != within {
			leads.Gone++
			continue
		}
		d, out := 0.0, within
		for side := l.side(x, y); side != within; side = l.side(x, y) { // back to where it is cut
			d, out = d+l.truth.Length/200, side
			x, y = t.back(d)
		}
		leads.Beyond = append(leads.Beyond, x)
		if out != inFront {
			rays = append(rays, shoot.Ray{Along: x, Up: y, Out: map[int]int{above: 1, beneath: -1}[out]})
		}
	}
	return l.learned(leads, rays)
}

// learned is what leads and rays teach, as a check does it.
func (l *loop) learned(leads shoot.Leads, rays []shoot.Ray) (r shoot.Result, err error) {
	if l.first, err = firstPlan(); err != nil {
		return r, err
	}
	r.Plan = l.first
	var none *input.NoResult
	subject := l.first.Request.Subject
	heading, err := shoot.LearnHeading(rays, l.field, subject)
	switch {
	case errors.As(err, &none):
	case err != nil:
		return r, err
	default:
		subject = heading.Of(subject)
	}
	got, speedErr := shoot.Learn(leads, subject, law, 0)
	if errors.As(speedErr, &none) {
		r.NotLearned = speedErr.Error()
		return r, nil
	}
	if err == nil {
		got.Heading = &heading
	}
	r.Learned = &got
	return r, speedErr
}

// planAgain plans with the subject's file that a shoot's result is written to.
func (l *loop) planAgain(r shoot.Result) (plan.Plan, error) {
	text, err := shoot.NewSubject("bee.toml", []byte(planned), r, time.Date(2026, 5, 3, 0, 0, 0, 0, time.UTC))
	if err != nil {
		return plan.Plan{}, err
	}
	s, err := subject.Parse("bee-learned.toml", text, input.Overrides{})
	if err != nil {
		return plan.Plan{}, fmt.Errorf("seed %d: %w", l.seed, err)
	}
	return makePlan(s)
}
