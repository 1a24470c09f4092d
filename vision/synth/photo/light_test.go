package photo

import (
	"math"
	"testing"
)

// A pure exponential tail has t0.1 / t0.5 = ln 10 / ln 2 = 3.3219281 (ISO 2827's definitions: time
// above a tenth and above a half of the peak).
func TestPulseDurations(t *testing.T) {
	above := func(p Pulse, part float64) float64 {
		return p.Rise*(1-part) + p.Tail*math.Log(1/part)
	}
	p := TailFor(100e-6)
	if got := above(p, 0.1); math.Abs(got-100e-6) > 1e-9 {
		t.Errorf("t0.1 is %g s, want 100 us", got)
	}
	p.Rise = 0
	if got := above(p, 0.1) / above(p, 0.5); math.Abs(got-3.3219281) > 1e-6 {
		t.Errorf("t0.1/t0.5 of an exponential tail is %g, want 3.3219281", got)
	}
}

// The median of an exponential of constant k lies k ln 2 after its start, its mean k: the moments,
// counted from the median, have the mean k (1 - ln 2).
func TestMomentsCountFromHalfTheLight(t *testing.T) {
	p := Pulse{Rise: 1e-9, Tail: 40e-6}
	ms := p.moments(2000)
	early, mean := 0, 0.0
	for _, m := range ms {
		if m < 0 {
			early++
		}
		mean += m / 2000
	}
	if early != 1000 {
		t.Errorf("%d of 2000 equal parts of the light come before the effective instant, want 1000", early)
	}
	if want := 40e-6 * (1 - math.Ln2); math.Abs(mean-want) > 0.02*want {
		t.Errorf("mean instant %g s, want %g", mean, want)
	}
}

// A controlled head that cuts its tail gives no light after the cut.
func TestCutPulseEnds(t *testing.T) {
	p := Pulse{Rise: 5e-6, Tail: 300e-6, Cut: 30e-6}
	ms := p.moments(100)
	if span := ms[99] - ms[0]; span > 35e-6 {
		t.Errorf("light spans %g s, want at most rise and cut, 35 us", span)
	}
}

// Inverse square law and cosine law: twice as far is a quarter; at 60 degrees half of that facing.
func TestIrradiance(t *testing.T) {
	f := Flash{Head: Vec{0, 0, 0}}
	n := Vec{0, 0, 1}
	ref := Vec{0, 0, 1}
	if got := f.Irradiance(Vec{0, 0, 2}, n, ref); math.Abs(got-0.25) > 1e-12 {
		t.Errorf("at twice the distance %g of the light, want 0.25", got)
	}
	slant := Vec{math.Sin(math.Pi / 3), 0, math.Cos(math.Pi / 3)}
	if got := f.Irradiance(ref, slant, ref); math.Abs(got-0.5) > 1e-12 {
		t.Errorf("at 60 degrees %g of the light, want 0.5", got)
	}
}

// Photon counting is a Poisson process: with N electrons at full scale a linear level x has the
// variance x/N, plus the read noise squared.
func TestNoiseVariance(t *testing.T) {
	s := Scene{Sensor: Sensor{FullWell: 2000, Read: 30}}
	noise := s.Sensor.noiser(9)
	const level, n = 0.4, 200000
	sum, sq := 0.0, 0.0
	for range n {
		v, _, _ := noise.add(level, 0, 0)
		sum += float64(v) / n
		sq += float64(v) * float64(v) / n
	}
	want := level/2000 + 30.0*30/(2000*2000)
	// The standard error of a variance is its sqrt(2/n), 0.3 per cent; the deviates are a table of
	// 65536.
	if got := sq - sum*sum; math.Abs(got-want) > 0.02*want {
		t.Errorf("variance %g, want %g", got, want)
	}
	if math.Abs(sum-level) > 2e-4 {
		t.Errorf("mean %g, want %g", sum, level)
	}
}
