package reach

import (
	"math"
	"math/rand/v2"

	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/subject"
)

// Gravity is the standard acceleration of free fall, m/s^2 (3rd CGPM, 1901, CR 70).
const Gravity = 9.80665

// Model draws trips of one subject with one rig.
type Model struct {
	s                    subject.Subject
	lag                  predict.Sampler
	speed, lift, azimuth predict.Sampler // of the next trip; lift is the elevation
	delay                float64         // added to the lag
}

// New is the model of a subject's trips with a rig's lag and added delay.
func New(s subject.Subject, lag predict.Law, delay float64) *Model {
	return &Model{s: s, delay: delay, lag: predict.NewCutSampler(lag),
		speed: predict.NewCutSampler(speedOf(s)),
		lift:  predict.NewSampler(liftOf(s)), azimuth: predict.NewSampler(azimuthOf(s))}
}

// With is the model of another subject, or another law of the lag.
func (m *Model) With(s subject.Subject, lag predict.Law) *Model {
	return &Model{s: s, delay: m.delay, lag: m.lag.Of(lag), speed: m.speed.Of(speedOf(s)),
		lift: m.lift.Of(liftOf(s)), azimuth: m.azimuth.Of(azimuthOf(s))}
}

func speedOf(s subject.Subject) predict.Law { return s.SpeedKnown.Next(s.Speed, s.SpeedSD) }

func liftOf(s subject.Subject) predict.Law {
	return s.ElevationKnown.Next(s.Elevation, s.ElevationSD)
}

func azimuthOf(s subject.Subject) predict.Law { return predict.Law{Scale: s.AzimuthSD} }

// sequenceFor begins a sequence of its own.
func (m *Model) sequenceFor(seed, stream uint64) sequence {
	return newSequence(rand.New(rand.NewPCG(seed, stream)))
}

// SpeedBelowZero is the share of the stated speeds that would lie below zero and is drawn again.
func (m *Model) SpeedBelowZero() float64 { return m.speed.BelowZero() }

// body is a subject at the flash: a box of the three lengths whose length lies along the unit
// vector (dx, dy, dz) and whose height lies in the vertical plane through it.
type body struct {
	noseX, noseZ float64
	x, y, z      float64 // middle
	dx, dy, dz   float64
	level        float64 // length of the vector's horizontal part
	across       float64 // speed across the view, m/s
}

// start is the part of a trip that is fixed at the trip: what is drawn.
type start struct {
	tau      float64 // from the trip to the flash
	speed    float64
	e, a     float64 // elevation and azimuth
	up, deep float64 // where the part that breaks the beam passes the trip plane
}

// draw takes the next trip of the sequence.
func (m *Model) draw(q *sequence) start {
	s := &m.s
	var t start
	t.tau = m.lag.Draw(q.next(0)) + m.delay
	t.speed = m.speed.Draw(q.next(1))
	t.e = m.lift.Draw(q.next(2))
	t.a = m.azimuth.Draw(q.next(3))
	t.up = s.Exit[0] * (q.next(4) - 0.5)
	t.deep = s.Exit[1] * (q.next(5) - 0.5)
	return t
}

// at is where the part that breaks the beam is, a time after the trip, and its velocity.
func (m *Model) at(t start, tau float64) (p, v [3]float64) {
	se, ce := math.Sincos(t.e)
	sa, ca := math.Sincos(t.a)
	p = [3]float64{0, t.up, t.deep}
	switch m.s.Motion {
	case subject.Table:
		along, up, dir, speed := m.s.Course.At(tau)
		for i, axis := range [3][2]float64{{ce * ca, -se * ca}, {se, ce}, {ce * sa, -se * sa}} {
			p[i] += axis[0]*along + axis[1]*up
			v[i] = axis[0]*dir[0] + axis[1]*dir[1]
			if speed > 0 {
				v[i] *= speed
			}
		}
		return p, v
	case subject.Hop:
		v = [3]float64{t.speed * ce * ca, t.speed*se - Gravity*tau, t.speed * ce * sa}
		p[1] += Gravity * tau * tau / 2 // the mean velocity is v + g tau/2
	default:
		v = [3]float64{t.speed * ce * ca, t.speed * se, t.speed * ce * sa}
	}
	for i := range p {
		p[i] += v[i] * tau
	}
	return p, v
}

// body is the subject of a trip at the flash.
func (m *Model) body(t start) body {
	p, v := m.at(t, t.tau)
	flat := v[0]*v[0] + v[2]*v[2]
	b := body{dx: 1, level: 1, across: math.Sqrt(v[0]*v[0] + v[1]*v[1])}
	if speed := math.Sqrt(flat + v[1]*v[1]); speed > 0 {
		k := 1 / speed
		b.dx, b.dy, b.dz, b.level = v[0]*k, v[1]*k, v[2]*k, math.Sqrt(flat)*k
	}
	if m.s.Motion == subject.Table {
		if _, _, _, v := m.s.Course.At(t.tau); v == 0 {
			b.across = 0
		}
	}
	ahead := m.s.BehindNose
	b.noseX, b.noseZ = p[0]+ahead*b.dx, p[2]+ahead*b.dz
	mid := ahead - m.s.Length/2
	b.x, b.y, b.z = p[0]+mid*b.dx, p[1]+mid*b.dy, p[2]+mid*b.dz
	return b
}

// half is how far the body reaches from its middle along each axis: the box of its eight corners.
func (m *Model) half(b body) (x, y, z float64) {
	l, h, w := m.s.Length/2, m.s.Height/2, m.s.Width/2
	r := b.level
	ax, ay, az := math.Abs(b.dx), math.Abs(b.dy), math.Abs(b.dz)
	if r < 1e-9 { // straight up or down: the plane through along is taken
		return h, l, w
	}
	k := 1 / r
	return l*ax + (h*ay*ax+w*az)*k, l*ay + h*r, l*az + (h*ay*az+w*ax)*k
}

// crossAxes are the directions of the body's height and width.
func crossAxes(b body) (up, side [3]float64) {
	r := b.level
	if r < 1e-9 { // straight up or down: the plane through along is taken
		return [3]float64{-b.dy, 0, 0}, [3]float64{0, 0, 1}
	}
	return [3]float64{-b.dy * b.dx / r, r, -b.dy * b.dz / r}, [3]float64{-b.dz / r, 0, b.dx / r}
}
